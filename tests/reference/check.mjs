// make check-reference: Pawnvane beside libraries that others wrote.
//
//     node check.mjs BUILD [POSITIONS]
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

const build = resolve(process.argv[2] ?? 'build');
const count = Number(process.argv[3] ?? 25000);

for (const part of [
    () => comparePositions(join(build, 'tests/reference/emit_positions'), count),
    () => compareFens(join(build, 'tests/reference/emit_fens'), count),
    () => driveEngine(join(build, 'pawnvane')),
    () => compareCensus(join(build, 'pawnvane-bench'), join(build, 'tests/reference/emit_games'),
        join(import.meta.dirname, '../../bench/games')),
    () => compareForecasts(join(build, 'pawnvane-bench'), shippedGames(join(import.meta.dirname, '../../bench/games'))),
    () => compareRun(join(build, 'pawnvane-bench'), join(import.meta.dirname, '../../bench/openings/strata.epd')),
    () => compareNotes(join(build, 'pawnvane-bench'), join(import.meta.dirname, '../../bench/games/club-match.pgn')),
    () => readPages(join(build, 'pawnvane-bench')),
]) {
    try {
        console.log(await part());
    } catch (error) {
        check(false, () => error?.stack ?? String(error));
    }
}
console.log(closing());
process.exit(allGood() ? 0 : 1);
