// Makes of plain PGN what people and programs make of it: comments, glyphs, marks, nested variations, escapes,
// other line ends and spacing, longer and shorter notation. The games stay the same games.

// Marsaglia's xorshift (Journal of Statistical Software 8, 2003): the same text every time.
export function randomBelow(seed) {
    let state = seed;
    return (bound) => {
        state ^= state << 13;
        state ^= state >>> 17;
        state ^= state << 5;
        return (state >>> 0) % bound;
    };
}

const behindMoves = [
    () => ' {[%clk 0:01:07]}',
    () => ' { a comment; with (brackets, a\nsecond line and [Event "nothing"] in it }',
    () => ' ; to the end of the line { ( \n',
    () => '\n% an escaped line 1. e4 { (\n',
    (below) => ` $${1 + below(139)}`,
    () => ' (1. e4 {so} e5 $1 (1... c5 2. Nf3 (2. c3 d5) 2... d6) 2. Nf3)',
    (below) => ['!', '?', '!!', '??', '!?', '?!'][below(6)],
    () => '\r\n',
    () => '\t ',
];

const moveTexts = [
    (san) => san.replace('=', ''),
    (san) => san.replace(/^O-O/, '0-0').replace(/^0-0-O/, '0-0-0'),
    (san) => san.replace(/[+#]$/, ''),
    (san) => san.replace('x', ''),
];

const isMove = (token) => /^[NBRQKOa-h]/.test(token);

function annotateMoves(text, below) {
    return text.split(/\s+/).filter(Boolean).map((token) => {
        if (!isMove(token)) return below(4) === 0 && /^\d+\./.test(token) ? '' : token;
        const move = below(4) === 0 ? moveTexts[below(moveTexts.length)](token) : token;
        const behind = below(3) === 0 ? behindMoves[below(behindMoves.length)](below) : '';
        return move + behind;
    }).join(' ');
}

/** `text` is in export format: tag lines, an empty line, movetext, an empty line. */
export function annotate(text, seed = 1994) {
    const below = randomBelow(seed);
    return `\uFEFF${text.trim().split('\n\n').map((part) => (part.startsWith('[') ? part : annotateMoves(part, below)))
        .join('\n\n')}\n`;
}
