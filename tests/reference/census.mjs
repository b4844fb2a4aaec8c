// Counts games by itself, with chessops for the rules and PGN, and compares with `pawnvane-bench census`, game by
// game and in sum. What a locked chain, a plan, a lever and its state are is written here once more from the
// definitions in structure/structure.h, sections 1 to 5; nothing of the product is used for it.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { attacks } from 'chessops/attacks';
import { parsePgn, startingPosition } from 'chessops/pgn';
import { parseSan } from 'chessops/san';
import { makeSquare, opposite, squareFile, squareRank } from 'chessops/util';
import { annotate } from './annotate.mjs';
import { check } from './tally.mjs';

const PAIRS = ['ab', 'bc', 'cd', 'de', 'ef', 'fg', 'gh'];
const GRADES = ['void', 'doubtful', 'likely', 'firm', 'likely', 'doubtful', 'void'];
const FIRMNESS = ['void', 'doubtful', 'likely', 'firm'];
const SIDES = ['white', 'black'];

const forward = (side) => (side === 'white' ? 1 : -1);
const onBoard = (file, rank) => file >= 0 && file < 8 && rank >= 0 && rank < 8;
const at = (file, rank) => (onBoard(file, rank) ? rank * 8 + file : undefined);

function holds(board, side, file, rank) {
    const piece = onBoard(file, rank) && board.get(at(file, rank));
    return Boolean(piece) && piece.role === 'pawn' && piece.color === side;
}

// Section 1: white pawns that face a black one.
function rams(board) {
    const found = [];
    for (const square of board.pieces('white', 'pawn')) {
        const [file, rank] = [squareFile(square), squareRank(square)];
        if (holds(board, 'black', file, rank + 1)) found.push({ file, rank });
    }
    return found;
}

function lockedPairs(board) {
    const found = [];
    const all = rams(board);
    for (const west of all)
        for (const east of all)
            if (east.file === west.file + 1 && Math.abs(east.rank - west.rank) === 1) found.push({ west, east });
    return found;
}

// Pairs that share a ram and climb alike, put together. In the order of the list: lowest file, rank of the white
// pawn on it, rank of the next.
function lockedChains(board) {
    const pairs = lockedPairs(board);
    const climb = ({ west, east }) => east.rank - west.rank;
    const same = (a, b) => a.file === b.file && a.rank === b.rank;
    const goesOn = (pair) => pairs.find((next) => same(next.west, pair.east) && climb(next) === climb(pair));
    const begins = (pair) => !pairs.some((last) => same(last.east, pair.west) && climb(last) === climb(pair));
    return pairs.filter(begins).map((pair) => {
        const chain = { west: pair.west, east: pair.east, climb: climb(pair), grades: [GRADES[pair.west.file]] };
        for (let next = goesOn(pair); next; next = goesOn(next)) {
            chain.east = next.east;
            chain.grades.push(GRADES[next.west.file]);
        }
        return chain;
    }).sort((a, b) => a.west.file - b.west.file || a.west.rank - b.west.rank || a.climb - b.climb);
}

const firmest = (grades) => FIRMNESS[Math.max(...grades.map((grade) => FIRMNESS.indexOf(grade)))];

// Section 2.
function seenBy(side, chain) {
    const up = side === 'white' ? 0 : 1;
    const [west, east] = [chain.west, chain.east].map(({ file, rank }) => ({ file, rank: rank + up }));
    const eastLeads = (east.rank - west.rank) * forward(side) > 0;
    const [head, base, d] = eastLeads ? [east, west, 1] : [west, east, -1];
    return {
        grade: firmest(chain.grades),
        baseLever: at(head.file + d, head.rank),
        headLever: at(base.file - d, base.rank),
    };
}

function countAttackers(board, square, side, lifted) {
    const occupied = lifted === undefined ? board.occupied : board.occupied.without(lifted);
    let count = 0;
    for (const from of board[side]) {
        if (from !== lifted && attacks(board.get(from), from, occupied).has(square)) count++;
    }
    return count;
}

// Section 3: { status, tempi }, tempi undefined where there is no number, status null where there is no lever.
function leverState(board, side, lever) {
    if (lever === undefined) return { status: null };
    const [file, goal] = [squareFile(lever), squareRank(lever)];
    const step = forward(side);
    if (holds(board, side, file, goal)) return { status: 'played', tempi: 0 };
    let rank = goal - step;
    while (onBoard(file, rank) && !holds(board, side, file, rank)) rank -= step;
    if (!onBoard(file, rank)) {
        const onFile = (colour) => [...Array(8).keys()].filter((r) => holds(board, colour, file, r));
        if (onFile(side).some((r) => (r - goal) * step > 0)) return { status: 'beyond' };
        return { status: onFile(side).length + onFile(opposite(side)).length ? 'gone' : 'cleared' };
    }
    const way = [];
    for (let r = rank + step; r !== goal + step; r += step) way.push(r);
    if (way.some((r) => holds(board, opposite(side), file, r))) return { status: 'barred' };
    const second = side === 'white' ? 1 : 6;
    const steps = rank === second && way.length >= 2 ? way.length - 1 : way.length;
    const blockers = way.filter((r) => board.occupied.has(at(file, r))).length;
    const pawn = at(file, rank);
    const short = Math.max(0, countAttackers(board, lever, opposite(side), pawn) - countAttackers(board, lever, side, pawn));
    const status = blockers ? 'obstructed' : short ? 'unsupported' : steps === 1 ? 'ready' : 'open';
    return { status, tempi: steps + blockers + short };
}

// Section 4, of a board with a locked chain that is not void.
function plan(board, side) {
    const done = ['beyond', 'cleared'];
    const candidates = lockedChains(board)
        .map((chain, place) => ({ ...seenBy(side, chain), place }))
        .filter(({ grade }) => grade !== 'void')
        .map((view) => ({ ...view, ...leverState(board, side, view.baseLever) }));
    const claim = ({ tempi, status }) => (tempi !== undefined ? 0 : done.includes(status) ? 1 : 2);
    candidates.sort((a, b) =>
        FIRMNESS.indexOf(b.grade) - FIRMNESS.indexOf(a.grade) || claim(a) - claim(b)
        || (a.tempi ?? 0) - (b.tempi ?? 0) || a.place - b.place);
    const first = candidates[0];
    const verdict = first.grade === 'doubtful' ? 'weak' : ['applies', 'fulfilled', 'misleading'][claim(first)];
    return { ...first, verdict };
}

// Section 5.
function nearMisses(board) {
    const pairs = lockedPairs(board);
    const found = [];
    const rammed = new Set(rams(board).map(({ file }) => file));
    const ways = (side) => {
        const both = new Set();
        for (let r = 0; r < 8; r++)
            for (const climb of [1, -1])
                if (holds(board, side, 3, r) && holds(board, side, 4, r + climb))
                    both.add(climb * forward(side) > 0 ? 'kingside' : 'queenside');
        return both;
    };
    const [white, black] = SIDES.map(ways);
    const one = rammed.has(3) !== rammed.has(4);
    const pawnOn = (side, file) => [...Array(8).keys()].some((r) => holds(board, side, file, r));
    const allThere = SIDES.every((side) => pawnOn(side, 3) && pawnOn(side, 4));
    if (pairs.some(({ west }) => west.file === 3)) {
        // No near miss in the centre.
    } else if (rammed.has(3) && rammed.has(4)) found.push('not_linked');
    else if (one && [...white].some((way) => black.has(way))) found.push('same_way');
    else if (one && allThere && (white.size || black.size)) found.push('not_rammed');
    if (pairs.some(({ west }) => west.file === 0 || west.file === 6)) found.push('rim');
    return found;
}

const bySide = (value) => Object.fromEntries(SIDES.map((side) => [side, value(side)]));
const name = (square) => (square === undefined ? null : makeSquare(square));

function firstMoment(board, ply) {
    return {
        ply,
        ...bySide((side) => {
            const { verdict, status, baseLever, headLever } = plan(board, side);
            return { verdict, status, base_lever: name(baseLever), head_lever: name(headLever), base_played: null, head_played: null };
        }),
    };
}

function survey(game) {
    const position = startingPosition(game.headers).unwrap();
    const reached = new Set();
    const misses = new Set();
    let first = null;
    let long = false;
    let plies = 0;
    for (const node of game.moves.mainline()) {
        const move = parseSan(position, node.san);
        if (!move) return null;
        const side = position.turn;
        const push = position.board.getRole(move.from) === 'pawn' && squareFile(move.from) === squareFile(move.to);
        position.play(move);
        plies++;
        if (first && push) {
            const goal = makeSquare(move.to);
            for (const lever of ['base', 'head'])
                if (first[side][`${lever}_lever`] === goal) first[side][`${lever}_played`] ??= plies;
        }
        for (const pair of lockedPairs(position.board)) reached.add(PAIRS[pair.west.file]);
        for (const miss of nearMisses(position.board)) misses.add(miss);
        long ||= lockedChains(position.board).some(({ west, east }) => east.file > west.file + 1);
        if (!first && reached.has('de')) first = firstMoment(position.board, plies);
    }
    return { plies, reached: PAIRS.filter((pair) => reached.has(pair)), near_misses: [...misses].sort(), first_de: first, long };
}

function sum(games) {
    const total = {
        games: games.length,
        plies: 0,
        reached: Object.fromEntries(PAIRS.map((pair) => [pair, 0])),
        first_de: bySide(() => ({})),
        base_lever_played: bySide(() => 0),
    };
    for (const game of games) {
        total.plies += game.plies;
        for (const pair of game.reached) total.reached[pair]++;
        if (!game.first_de) continue;
        for (const side of SIDES) {
            const { verdict, status, base_played: played } = game.first_de[side];
            const key = `${verdict}/${status ?? 'none'}`;
            total.first_de[side][key] = (total.first_de[side][key] ?? 0) + 1;
            if (played !== null) total.base_lever_played[side]++;
        }
    }
    return total;
}

const sorted = (value) => JSON.stringify(value, (_, v) =>
    v && typeof v === 'object' && !Array.isArray(v) ? Object.fromEntries(Object.entries(v).sort()) : v);

function compareFile(bench, file) {
    const ours = execFileSync(bench, ['census', file, '--games', '--quiet'], { encoding: 'utf8', maxBuffer: 1 << 28 })
        .trim().split('\n').map((line) => JSON.parse(line));
    const theirs = parsePgn(readFileSync(file, 'utf8')).map(survey);
    check(ours.length === theirs.length, () => `${file}: ${ours.length} games, chessops finds ${theirs.length}`);
    for (const [i, game] of ours.entries()) {
        const first = game.first_de && { ply: game.first_de.ply, white: game.first_de.white, black: game.first_de.black };
        const mine = { plies: game.plies, reached: game.reached, near_misses: game.near_misses.sort(), first_de: first };
        const { long, ...counted } = theirs[i];
        check(sorted(mine) === sorted(counted), () =>
            `${file}, game ${game.game}\n    census:   ${sorted(mine)}\n    chessops: ${sorted(counted)}`);
    }
    const total = JSON.parse(execFileSync(bench, ['census', file, '--json', '--quiet'], { encoding: 'utf8' }));
    const expected = sum(theirs);
    for (const key of Object.keys(expected))
        check(sorted(total[key]) === sorted(expected[key]), () =>
            `${file}: ${key} is ${sorted(total[key])}, chessops: ${sorted(expected[key])}`);
    check(total.skipped === 0, () => `${file}: ${total.skipped} games were left out`);
    return theirs;
}

// What must have come up, or the comparison proves little.
const wanted = {
    'games that lock': (g) => g.first_de,
    'games that do not': (g) => !g.first_de,
    'applies': (g) => g.first_de?.white.verdict === 'applies',
    'misleading': (g) => g.first_de?.white.verdict === 'misleading',
    'fulfilled': (g) => SIDES.some((side) => g.first_de?.[side].verdict === 'fulfilled'),
    'levers beyond': (g) => SIDES.some((side) => g.first_de?.[side].status === 'beyond'),
    'levers cleared': (g) => SIDES.some((side) => g.first_de?.[side].status === 'cleared'),
    'longer chains': (g) => g.long,
    'base levers played': (g) => SIDES.some((side) => g.first_de?.[side].base_played),
    'head levers played': (g) => SIDES.some((side) => g.first_de?.[side].head_played),
    'near misses': (g) => g.near_misses.length,
    'other files': (g) => g.reached.some((pair) => pair !== 'de'),
};

/** Compares generated games and the shipped ones. Returns a line that says what was covered. */
export function compareCensus(bench, emitter, shipped, count = 500) {
    const folder = mkdtempSync(join(tmpdir(), 'census-'));
    try {
        const generated = join(folder, 'random.pgn');
        const annotated = join(folder, 'annotated.pgn');
        writeFileSync(generated, execFileSync(emitter, [String(count)], { maxBuffer: 1 << 28 }));
        writeFileSync(annotated, annotate(readFileSync(generated, 'utf8')));
        const files = existsSync(shipped) ? readdirSync(shipped).filter((file) => file.endsWith('.pgn')) : [];
        const games = [generated, annotated, ...files.map((file) => join(shipped, file))].flatMap((file) => compareFile(bench, file));
        const seen = Object.entries(wanted).map(([kind, is]) => [kind, games.filter(is).length]);
        for (const [kind, times] of seen) check(times > 0, () => `no ${kind} in all ${games.length} games`);
        return `${games.length} games counted: ${seen.map(([kind, times]) => `${kind} ${times}`).join(', ')}`;
    } finally {
        rmSync(folder, { recursive: true });
    }
}
