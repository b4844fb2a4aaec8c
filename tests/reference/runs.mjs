// Plays a small match with `pawnvane-bench duel` and reads its games with chessops: every move is legal, every game
// ends where its record says, and the five kinds of pairs, counted from the games, are those of the table.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Chess } from 'chessops/chess';
import { makeFen, parseFen } from 'chessops/fen';
import { parsePgn } from 'chessops/pgn';
import { parseSan } from 'chessops/san';
import { check } from './tally.mjs';

const HALF_POINTS = { '1-0': 2, '1/2-1/2': 1, '0-1': 0 };

// What the Laws of Chess say at the end of a game; adjudication happens where they say nothing.
const ENDINGS = {
    'checkmate': (position) => position.isCheckmate(),
    'stalemate': (position) => position.isStalemate(),
    'no mate is possible': (position) => position.isInsufficientMaterial(),
    'threefold repetition': (position, times) => times === 3,
    'fifty moves without capture or pawn move': (position) => position.halfmoves === 100,
    'adjudicated win': (position) => !position.isEnd(),
    'adjudicated draw': (position) => !position.isEnd(),
    'longest game': (position) => !position.isEnd(),
};

export function replay(game, name) {
    const position = Chess.fromSetup(parseFen(game.headers.get('FEN')).unwrap()).unwrap();
    const standings = new Map();
    const stand = () => {
        const standing = makeFen(position.toSetup(), { epd: true });
        standings.set(standing, (standings.get(standing) ?? 0) + 1);
        return standings.get(standing);
    };
    let times = stand();
    for (const { san } of game.moves.mainline()) {
        check(!position.isEnd() && times < 3 && position.halfmoves < 100, () => `${name}: goes on behind its end`);
        const move = parseSan(position, san);
        check(Boolean(move), () => `${name}: ${san} is not legal`);
        if (!move) return;
        position.play(move);
        times = stand();
    }
    const ending = game.headers.get('Ending');
    check(Boolean(ENDINGS[ending]?.(position, times)), () => `${name}: does not end by ${ending}`);
    if (ending === 'checkmate') {
        const expected = position.turn === 'black' ? '1-0' : '0-1';
        check(game.headers.get('Result') === expected, () => `${name}: mated, but ${game.headers.get('Result')}`);
    }
    check(ending === 'checkmate' || ending === 'adjudicated win' || game.headers.get('Result') === '1/2-1/2',
        () => `${name}: ${ending}, but ${game.headers.get('Result')}`);
}

function countPairs(games) {
    const strata = new Map([['all', [0, 0, 0, 0, 0]]]);
    for (let i = 0; i < games.length; i += 2) {
        const [first, second] = [games[i], games[i + 1]].map((game) => HALF_POINTS[game.headers.get('Result')]);
        check(games[i].headers.get('FEN') === games[i + 1].headers.get('FEN') &&
            games[i].headers.get('White') === games[i + 1].headers.get('Black'),
        () => `pair ${i / 2 + 1}: not one opening with colours changed`);
        const stratum = games[i].headers.get('Stratum');
        if (!strata.has(stratum)) strata.set(stratum, [0, 0, 0, 0, 0]);
        for (const name of ['all', stratum]) strata.get(name)[first + 2 - second]++;
    }
    return strata;
}

export function compareRun(bench, openings) {
    const folder = mkdtempSync(join(tmpdir(), 'pawnvane-runs-'));
    try {
        const pgn = join(folder, 'run.pgn');
        const csv = execFileSync(bench, ['duel', '--weight', '200:0', '--nodes', '150', '--pairs', '60',
            '--openings', openings, '--adjudicate', 'drawn=10/12/40,longest=200', '--pgn', pgn, '--csv', '--quiet'],
        { encoding: 'utf8' });
        const games = parsePgn(readFileSync(pgn, 'utf8'));
        check(games.length === 120, () => `${games.length} games instead of 120`);
        games.forEach((game) => replay(game, `round ${game.headers.get('Round')}`));
        const counted = countPairs(games);
        const [head, ...rows] = csv.trim().split('\n').map((line) => line.split(','));
        const column = (row, name) => row[head.indexOf(name)];
        for (const row of rows) {
            const found = ['0', 'half', '1', '1_and_half', '2'].map((name) => Number(column(row, `points_${name}`)));
            const expected = counted.get(column(row, 'stratum'));
            check(String(found) === String(expected), () => `${column(row, 'stratum')}: ${found}, counted ${expected}`);
            const score = expected.reduce((sum, n, i) => sum + n * i, 0) / 4 / expected.reduce((sum, n) => sum + n, 0);
            check(Math.abs(score - Number(column(row, 'score'))) < 1e-6, () => `score ${column(row, 'score')}`);
        }
        return `runs: ${games.length} games replayed, ${rows.length} rows counted again`;
    } finally {
        rmSync(folder, { recursive: true });
    }
}
