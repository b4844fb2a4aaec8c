// make check-reference: Pawnvane beside libraries that others wrote.
//
//     node check.mjs BUILD [PART]...      without one: all
import { join, resolve } from 'node:path';
import { compareCensus } from './census.mjs';
import { driveEngine } from './client.mjs';
import { compareFens } from './fens.mjs';
import { compareNotes } from './notes.mjs';
import { compareForecasts, shippedGames } from './forecast.mjs';
import { readPages } from './pages.mjs';
import { comparePositions } from './positions.mjs';
import { compareRun } from './runs.mjs';
import { allGood, check, closing } from './tally.mjs';

const [build, ...chosen] = [resolve(process.argv[2] ?? 'build'), ...process.argv.slice(3)];
const bench = join(build, 'pawnvane-bench');
const emitter = (name) => join(build, 'tests/reference', name);
const shipped = (path) => join(import.meta.dirname, '../../bench', path);

const parts = {
    positions: () => comparePositions(emitter('emit_positions'), 25000),
    fens: () => compareFens(emitter('emit_fens'), 30000),
    client: () => driveEngine(join(build, 'pawnvane')),
    census: () => compareCensus(bench, emitter('emit_games'), shipped('games')),
    forecasts: () => compareForecasts(bench, shippedGames(shipped('games'))),
    runs: () => compareRun(bench, shipped('openings/strata.epd')),
    notes: () => compareNotes(bench, shipped('games/club-match.pgn')),
    pages: () => readPages(bench),
};

for (const name of chosen.length ? chosen : Object.keys(parts)) {
    try {
        console.log(await parts[name]());
    } catch (error) {
        check(false, () => error?.stack ?? String(error));
    }
}
console.log(closing());
process.exit(allGood() ? 0 : 1);
