// Writes comments, glyphs and nested variations into games, some with figurines, has `pawnvane-bench handout` make a
// sheet of them, and reads the sheet with chessops: all that was there must still be there, in its order, and every
// move must be legal.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parsePgn, startingPosition } from 'chessops/pgn';
import { makeSan, parseSan } from 'chessops/san';
import { randomBelow } from './annotate.mjs';
import { check } from './tally.mjs';

const GAMES = 8;
const words = ['plain', '100 % sure', '%looks like an escape', '[%cal Gf4f5]', '[Event "no game"]', 'a ; b ( c ) d', 'back\\slash',
    'a longer remark that has to be wrapped somewhere because it does not fit into a line of seventy-nine'];
const figurines = { K: '♔♚', Q: '♕♛', R: '♖♜', B: '♗♝', N: '♘♞' };

function legalMoves(position) {
    const moves = [];
    for (const [from, dests] of position.allDests())
        for (const to of dests) {
            const promotes = position.board.getRole(from) === 'pawn' && (to < 8 || to >= 56);
            moves.push({ from, to, promotion: promotes ? 'queen' : undefined });
        }
    return moves;
}

// Notes behind a move that was played in a position: text in PGN.
function notesOn(position, below, depth) {
    const notes = [];
    if (below(5) === 0) notes.push(['!', '?', '!!', '??', '!?', '?!', ` $${7 + below(133)}`][below(7)]);
    if (below(5) === 0) notes.push(` {${words[below(words.length)]} ${below(1000)}}`);
    const moves = legalMoves(position);
    while (depth < 4 && moves.length && below(6) === 0) {
        const before = below(4) === 0 ? `{${words[below(words.length)]}} ` : '';
        notes.push(` (${before}${lineFrom(position.clone(), below, depth + 1, 1 + below(4))})`);
        if (below(3) === 0) notes.push(` {behind it ${below(1000)}}`);
    }
    return notes.join('');
}

function lineFrom(position, below, depth, length) {
    const line = [];
    for (let i = 0; i < length; i++) {
        const moves = legalMoves(position);
        if (!moves.length) break;
        line.push(written(position, moves[below(moves.length)], below, depth, i === 0));
    }
    return line.join(' ');
}

// A move with its number and its notes; the position goes on.
function written(position, move, below, depth, first) {
    const number = position.turn === 'white' ? `${position.fullmoves}. ` : first ? `${position.fullmoves}... ` : '';
    const before = position.clone();
    const san = makeSan(position, move);
    position.play(move);
    return number + san + notesOn(before, below, depth);
}

function annotated(game, below) {
    const position = startingPosition(game.headers).unwrap();
    const moves = [...game.moves.mainline()].map(({ san }) => {
        const move = parseSan(position, san);
        return written(position, move, below, 0, false);
    });
    const tags = [...game.headers].map(([name, value]) => `[${name} "${value}"]`).join('\n');
    return `${tags}\n\n{Before the first move.} ${moves.join(' ')} ${game.headers.get('Result')}\n`;
}

// The same text with signs in place of the letters of men, outside tags and comments.
function withFigurines(text, below) {
    return text.split('\n').map((line) => (line.startsWith('[') ? line : line.split(/(\{[^}]*\})/).map((part) =>
        (part.startsWith('{') ? part : part.replace(/([KQRBN])(?=[a-h1-8x])|(?<==)[QRBN]/g, (letter) => figurines[letter][below(2)])))
        .join(''))).join('\n');
}

const plain = (comment) => comment.replace(/\s+/g, ' ').trim();

function holdsInOrder(all, some) {
    let next = 0;
    for (const item of all) if (item === some[next]) next++;
    return next === some.length;
}

const counts = { comments: 0, glyphs: 0, variations: 0 };

// `exact`: within variations nothing may be added.
function compareLines(ours, theirs, name, exact) {
    for (let depth = 0; theirs.children.length; depth++) {
        const [mine, wanted] = [ours.children, theirs.children];
        check(exact ? mine.length === wanted.length : mine.length >= wanted.length, () => `${name}: ${mine.length} lines for ${wanted.length}`);
        for (const [i, child] of wanted.entries()) {
            const [found, expected] = [mine[i]?.data ?? {}, child.data];
            for (const key of ['comments', 'startingComments']) {
                const [has, needs] = [(found[key] ?? []).map(plain), (expected[key] ?? []).map(plain)];
                check(exact || i > 0 ? String(has) === String(needs) : holdsInOrder(has, needs), () => `${name}, ${expected.san}: ${key} are\n    ${has}\n    instead of\n    ${needs}`);
                counts.comments += needs.length;
            }
            const [has, needs] = [found.nags ?? [], expected.nags ?? []];
            check(found.san === expected.san && holdsInOrder(has, needs), () => `${name}: ${found.san} $${has} instead of ${expected.san} $${needs}`);
            check(!needs.some((nag) => nag <= 6) || String(has) === String(needs), () => `${name}, ${expected.san}: judged twice, $${has}`);
            counts.glyphs += needs.length;
            if (i > 0 && mine[i]) {
                counts.variations++;
                compareLines(mine[i], child, name, true);
            }
        }
        if (!mine[0]) return;
        [ours, theirs] = [mine[0], wanted[0]];
    }
}

function playLegally(node, position, name) {
    for (const child of node.children) {
        const next = position.clone();
        const move = parseSan(next, child.data.san);
        check(Boolean(move), () => `${name}: ${child.data.san} is not legal`);
        if (!move) continue;
        next.play(move);
        playLegally(child, next, name);
    }
}

/** Compares the games of a file before and after they were made a sheet. Returns a line that says what was covered. */
export function compareNotes(bench, file) {
    const folder = mkdtempSync(join(tmpdir(), 'notes-'));
    const below = randomBelow(1994);
    try {
        const text = parsePgn(readFileSync(file, 'utf8')).slice(0, GAMES).map((game) => annotated(game, below)).join('\n');
        const [source, sheet] = [join(folder, 'notes.pgn'), join(folder, 'sheet.pgn')];
        writeFileSync(source, withFigurines(text, below));
        execFileSync(bench, ['handout', source, '--html', join(folder, 'sheet.html'), '--pgn', sheet, '--nodes', '1000', '--quiet']);
        const [ours, theirs] = [readFileSync(sheet, 'utf8'), text].map((games) => parsePgn(games));
        check(ours.length === GAMES && theirs.length === GAMES, () => `${ours.length} games of ${theirs.length}`);
        for (const [i, game] of theirs.entries()) {
            const name = `sheet, game ${i + 1}`;
            check(holdsInOrder((ours[i].comments ?? []).map(plain), game.comments.map(plain)), () => `${name}: ${ours[i].comments}`);
            compareLines(ours[i].moves, game.moves, name, false);
            playLegally(ours[i].moves, startingPosition(ours[i].headers).unwrap(), name);
            check(ours[i].headers.get('Annotator')?.endsWith('Pawnvane'), () => `${name}: no annotator`);
        }
        for (const [kind, times] of Object.entries(counts)) check(times > 50, () => `only ${times} ${kind}`);
        return `sheets: ${GAMES} games with figurines, ${Object.entries(counts).map(([kind, times]) => `${times} ${kind}`).join(', ')} kept`;
    } finally {
        rmSync(folder, { recursive: true });
    }
}
