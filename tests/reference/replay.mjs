// Replays the games of a run with chessops: every move is legal, and every game ends where its record says.
//
//     node replay.mjs FILE.pgn      prints how many games it has read, and how many are good
import { createReadStream } from 'node:fs';
import { PgnParser } from 'chessops/pgn';
import { replay } from './runs.mjs';
import { failures } from './tally.mjs';

let read = 0;
let good = 0;
const parser = new PgnParser((game, error) => {
    if (error) throw error;
    const before = failures();
    replay(game, `game ${++read}`);
    good += failures() === before;
});
for await (const text of createReadStream(process.argv[2], { encoding: 'utf8' })) parser.parse(text, { stream: true });
parser.parse('');
console.log(read, good);
