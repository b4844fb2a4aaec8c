// Counts by itself, with chessops for the rules and PGN, where the first lever came after a lock or a near miss, and compares
// with `pawnvane-bench forecast`, cell by cell. Rams, chains, levers, plans, near misses and the counts are written here
// once more from the definitions in structure/structure.h and bench/forecast/forecast_game.h; nothing of the product is used.
//
//     node forecast.mjs BUILD [GAMES.pgn[.zst]...]  without games: those that are shipped
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { attacks } from 'chessops/attacks';
import { parsePgn, startingPosition } from 'chessops/pgn';
import { parseSan } from 'chessops/san';
import { allGood, check, closing } from './tally.mjs';

const SIDES = ['white', 'black'];
const GRADES = { de: 'firm', cd: 'likely', ef: 'likely', bc: 'doubtful', fg: 'doubtful', ab: 'void', gh: 'void' };
const FIRMNESS = ['void', 'doubtful', 'likely', 'firm'];
const MOMENTS = ['firm', 'likely', 'doubtful', 'not_linked', 'same_way', 'not_rammed'];
const REGIONS = ['queenside', 'queenside', 'queenside', 'centre', 'centre', 'kingside', 'kingside', 'kingside'];

const other = (side) => (side === 'white' ? 'black' : 'white');
const up = (side) => (side === 'white' ? 1 : -1);

// The pawns as two sets of "file,rank" keys: all that most of the definitions look at.
class Pawns {
    constructor(board) {
        for (const side of SIDES)
            this[side] = [...board.pieces(side, 'pawn')].map((square) => ({ f: square % 8, r: square >> 3 }));
        this.keys = Object.fromEntries(SIDES.map((side) => [side, new Set(this[side].map(({ f, r }) => `${f},${r}`))]));
        this.text = `${[...this.keys.white]}|${[...this.keys.black]}`;
    }

    has(side, f, r) {
        return this.keys[side].has(`${f},${r}`);
    }

    any(f, r) {
        return this.has('white', f, r) || this.has('black', f, r);
    }
}

// Locked chains as runs of rams, by their white pawns, the western one first.
function chains(pawns) {
    const ram = (f, r) => pawns.has('white', f, r) && pawns.has('black', f, r + 1);
    const found = [];
    for (const slope of [1, -1])
        for (const { f, r } of pawns.white) {
            if (!ram(f, r) || !ram(f + 1, r + slope) || ram(f - 1, r - slope)) continue;
            const run = [];
            for (let i = 0; ram(f + i, r + i * slope); i++) run.push({ f: f + i, r: r + i * slope });
            found.push(run);
        }
    const files = (run) => run.map(({ f }) => 'abcdefgh'[f]).join('');
    const grade = (run) => run.slice(1)
        .map((_, i) => GRADES[files(run).slice(i, i + 2)])
        .reduce((a, b) => (FIRMNESS.indexOf(a) > FIRMNESS.indexOf(b) ? a : b));
    return found
        .map((run) => ({ run, files: files(run), grade: grade(run) }))
        .sort((a, b) => a.run[0].f - b.run[0].f || a.run[0].r - b.run[0].r || a.run[1].r - b.run[1].r);
}

function view(side, { run }) {
    const shift = side === 'white' ? 0 : 1;
    const ends = [run[0], run[run.length - 1]].map(({ f, r }) => ({ f, r: r + shift }));
    ends.sort((a, b) => (b.r - a.r) * up(side));
    const [head, base] = ends;
    const d = Math.sign(head.f - base.f);
    const t = head.f + d;
    return { head, base, d, t, lever: t >= 0 && t <= 7 ? { f: t, r: head.r } : null };
}

function countAttackers(board, square, side, lifted) {
    const occupied = board.occupied.without(lifted);
    let count = 0;
    for (const from of board[side])
        if (from !== lifted && attacks(board.get(from), from, occupied).has(square)) count++;
    return count;
}

// Section 3: which group the lever is in (0 live, 1 beyond or cleared, 2 the rest) and its tempi.
function leverState(board, pawns, side, lever) {
    if (!lever) return { group: 2 };
    const { f, r } = lever;
    if (pawns.has(side, f, r)) return { group: 0, tempi: 0 };
    const ranks = (from, step) => Array.from({ length: 8 }, (_, i) => from + step * (i + 1)).filter((x) => x >= 0 && x < 8);
    const behind = ranks(r, -up(side)).find((x) => pawns.has(side, f, x));
    if (behind === undefined) {
        if (ranks(r, up(side)).some((x) => pawns.has(side, f, x))) return { group: 1 };
        return { group: [0, 1, 2, 3, 4, 5, 6, 7].some((x) => pawns.any(f, x)) ? 2 : 1 };
    }
    const way = ranks(behind, up(side)).filter((x) => (r - x) * up(side) >= 0);
    if (way.some((x) => pawns.has(other(side), f, x))) return { group: 2 };
    const second = side === 'white' ? 1 : 6;
    const steps = behind === second && way.length >= 2 ? way.length - 1 : way.length;
    const blockers = way.filter((x) => board.occupied.has(8 * x + f)).length;
    const [own, enemy] = [side, other(side)].map((s) => countAttackers(board, 8 * r + f, s, 8 * behind + f));
    return { group: 0, tempi: steps + blockers + Math.max(0, enemy - own) };
}

// Section 4, as far as a row needs it.
function plan(board, pawns, side) {
    const [first] = chains(pawns)
        .filter(({ grade }) => grade !== 'void')
        .map((chain, place) => ({ ...chain, ...view(side, chain), place }))
        .map((chain) => ({ ...chain, ...leverState(board, pawns, side, chain.lever) }))
        .sort((a, b) => FIRMNESS.indexOf(b.grade) - FIRMNESS.indexOf(a.grade) || a.group - b.group
            || (a.group === 0 ? a.tempi - b.tempi : 0) || a.place - b.place);
    return {
        verdict: first.grade === 'doubtful' ? 'weak' : ['applies', 'fulfilled', 'misleading'][first.group],
        region: REGIONS[first.lever ? first.t : first.head.f],
        lever: first.lever && 8 * first.lever.r + first.lever.f,
    };
}

function linkedWings(pawns, side) {
    const wings = [];
    for (const [wing, lead] of [['kingside', 1], ['queenside', -1]])
        if (pawns[side].some(({ f, r }) => f === 3 && pawns.has(side, 4, r + lead * up(side)))) wings.push(wing);
    return wings;
}

// Section 5, without the rim.
function nearMiss(pawns, found) {
    if (found.some(({ files }) => files.includes('de'))) return null;
    const rammed = [3, 4].filter((file) => pawns.white.some(({ f, r }) => f === file && pawns.has('black', f, r + 1)));
    if (rammed.length === 2) return 'not_linked';
    if (rammed.length === 0) return null;
    const [white, black] = SIDES.map((side) => linkedWings(pawns, side));
    if (white.some((wing) => black.includes(wing))) return 'same_way';
    const there = SIDES.every((side) => [3, 4].every((file) => pawns[side].some(({ f }) => f === file)));
    return there && white.length + black.length > 0 ? 'not_rammed' : null;
}

// The moments of a position.
function moments(pawns) {
    const found = chains(pawns);
    const grade = found.map((chain) => chain.grade).sort((a, b) => FIRMNESS.indexOf(b) - FIRMNESS.indexOf(a))[0];
    return [grade && grade !== 'void' ? grade : null, nearMiss(pawns, found)].filter(Boolean);
}

function rowsAt(moment, board, pawns) {
    return SIDES.flatMap((side) => (MOMENTS.indexOf(moment) < 3
        ? [{ moment, side, ...plan(board, pawns, side) }]
        : linkedWings(pawns, side).map((region) => ({ moment, side, verdict: 'linked', region, lever: null }))));
}

// The goal of a push that attacks a pawn, null for any other move; the position is the one before it.
function leverGoal(position, move) {
    if (position.board.getRole(move.from) !== 'pawn' || move.promotion || move.from % 8 !== move.to % 8) return null;
    const ahead = (move.to >> 3) + up(position.turn);
    const hits = [-1, 1].some((d) => {
        const file = (move.to % 8) + d;
        const piece = file >= 0 && file < 8 ? position.board.get(8 * ahead + file) : undefined;
        return piece?.role === 'pawn' && piece.color !== position.turn;
    });
    return hits ? move.to : null;
}

function survey(game) {
    const position = startingPosition(game.headers).unwrap();
    const seen = new Set();
    const rows = [];
    let plies = 0;
    let latest = null;
    for (const node of game.moves.mainline()) {
        const move = parseSan(position, node.san);
        if (!move) return null;
        const side = position.turn;
        const goal = leverGoal(position, move);
        position.play(move);
        plies++;
        if (goal !== null)
            for (const row of rows)
                if (row.side === side && row.first === undefined) Object.assign(row, { first: goal, later: plies - row.ply });
        const pawns = new Pawns(position.board);
        if (pawns.text === latest) continue;
        latest = pawns.text;
        for (const moment of moments(pawns)) {
            const late = seen.has('firm') && MOMENTS.indexOf(moment) >= 3;
            if (!seen.has(moment) && !late)
                rows.push(...rowsAt(moment, position.board, pawns).map((row) => ({ ...row, ply: plies })));
            seen.add(moment);
        }
    }
    return { plies, rows, result: game.headers.get('Result') };
}

const POINTS = { '1-0': { white: 1, black: 0 }, '0-1': { white: 0, black: 1 }, '1/2-1/2': { white: 0.5, black: 0.5 } };
const key = ({ moment, side, verdict, region }) => `${moment} ${side} ${verdict} ${region}`;

function count(games) {
    const cells = new Map();
    for (const { rows, result } of games)
        for (const row of rows) {
            const cell = cells.get(key(row)) ?? {
                n: 0, first_lever: { queenside: 0, centre: 0, kingside: 0, none: 0 }, named: 0, points: 0, finished: 0, later: 0,
            };
            cells.set(key(row), cell);
            cell.n++;
            cell.first_lever[row.first === undefined ? 'none' : REGIONS[row.first % 8]]++;
            if (row.first !== undefined && row.first === row.lever) cell.named++;
            cell.later += row.later ?? 0;
            if (POINTS[result]) {
                cell.finished++;
                cell.points += POINTS[result][row.side];
            }
        }
    return cells;
}

function inOrder(rows) {
    const place = ({ moment, side, verdict, region }) => [MOMENTS.indexOf(moment), SIDES.indexOf(side), verdict, region];
    return rows.every((row, i) => {
        if (i === 0) return true;
        const [a, b] = [place(rows[i - 1]), place(row)];
        const at = a.findIndex((value, j) => value !== b[j]);
        return at >= 0 && a[at] < b[at];
    });
}

/** Compares one file. Returns how many games, rows and cells there were. */
export function compareForecast(bench, file) {
    const ours = JSON.parse(execFileSync(bench, ['forecast', file, '--json', '--quiet'], { encoding: 'utf8', maxBuffer: 1 << 28 }));
    const text = file.endsWith('.zst') ? execFileSync('zstd', ['-dcq', file], { encoding: 'utf8', maxBuffer: 1 << 28 }) : readFileSync(file, 'utf8');
    const theirs = parsePgn(text).map(survey);
    check(theirs.every(Boolean), () => `${file}: chessops cannot read all of it`);
    check(ours.games === theirs.length && ours.plies === theirs.reduce((sum, { plies }) => sum + plies, 0), () =>
        `${file}: ${ours.games} games, ${ours.plies} plies; chessops: ${theirs.length} games`);
    const cells = count(theirs);
    check(inOrder(ours.rows), () => `${file}: the rows are out of order`);
    for (const row of ours.rows) {
        const cell = cells.get(key(row));
        cells.delete(key(row));
        check(cell !== undefined, () => `${file}: ${key(row)} is not there for chessops`);
        if (!cell) continue;
        for (const name of ['n', 'named', 'points', 'finished'])
            check(row[name] === cell[name], () => `${file}: ${key(row)}: ${name} ${row[name]}, chessops ${cell[name]}`);
        for (const place of Object.keys(cell.first_lever))
            check(row.first_lever[place] === cell.first_lever[place], () =>
                `${file}: ${key(row)}: ${place} ${row.first_lever[place]}, chessops ${cell.first_lever[place]}`);
        const levers = cell.n - cell.first_lever.none;
        check(levers ? Math.abs(row.plies_to_lever - cell.later / levers) < 1e-9 : row.plies_to_lever === null, () =>
            `${file}: ${key(row)}: ${row.plies_to_lever} plies to the lever, chessops ${cell.later / levers}`);
        check(row.ratings.reduce((sum, { n }) => sum + n, 0) === cell.n, () => `${file}: ${key(row)}: the ratings do not add up`);
    }
    for (const missing of cells.keys()) check(false, () => `${file}: ${missing} is missing`);
    return { games: theirs.length, rows: ours.rows };
}

/** Compares the shipped games. Returns a line that says what was covered. */
export function compareForecasts(bench, files) {
    const all = files.map((file) => compareForecast(bench, file));
    const rows = all.flatMap((one) => one.rows);
    for (const moment of ['firm', 'likely', 'doubtful', 'same_way', 'not_rammed'])
        check(rows.some((row) => row.moment === moment), () => `no row of ${moment} in all games`);
    for (const verdict of ['applies', 'fulfilled', 'misleading', 'weak', 'linked'])
        check(rows.some((row) => row.verdict === verdict), () => `no row of ${verdict} in all games`);
    return `${all.reduce((sum, { games }) => sum + games, 0)} games forecast: ${rows.length} rows compared cell by cell`;
}

export function shippedGames(folder) {
    return readdirSync(folder).filter((file) => /\.pgn(\.zst)?$/.test(file)).map((file) => join(folder, file));
}

if (process.argv[1] && resolve(process.argv[1]) === import.meta.filename) {
    const [build = 'build', ...files] = process.argv.slice(2);
    const games = files.length ? files : shippedGames(join(import.meta.dirname, '../../bench/games'));
    console.log(compareForecasts(join(resolve(build), 'pawnvane-bench'), games));
    console.log(closing());
    process.exit(allGood() ? 0 : 1);
}
