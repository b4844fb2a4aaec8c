// Compares what Pawnvane says of the FENs of emit_fens.c with chessops: which are positions, which moves these have, and
// that each refusal has its reason. chessops refuses less: where it takes a text, the reason is found here once more from
// what it has read.
//
//     node fens.mjs BUILD [COUNT]      by itself
import { spawn } from 'node:child_process';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { Chess, normalizeMove } from 'chessops/chess';
import { makeFen, parseFen } from 'chessops/fen';
import { makeUci, opposite, parseUci } from 'chessops/util';
import { legalMoves } from './positions.mjs';
import { allGood, check, closing } from './tally.mjs';

const SIDES = ['white', 'black'];
const PROMOTABLE = { knight: 2, bishop: 2, rook: 2, queen: 1 };

function promotedMen(board, side) {
    return Object.entries(PROMOTABLE)
        .map(([role, atStart]) => Math.max(0, board.pieces(side, role).size() - atStart))
        .reduce((a, b) => a + b);
}

const isAt = (board, square, role, color) => board.get(square)?.role === role && board.get(square)?.color === color;

function castlingStands(board, letter) {
    const [side, home] = letter === letter.toUpperCase() ? ['white', 0] : ['black', 56];
    return isAt(board, home + 4, 'king', side) && isAt(board, home + (letter.toLowerCase() === 'k' ? 7 : 0), 'rook', side);
}

// Whether the side to move would have been in check, by another man than the pawn, before its double step.
function inCheckBefore(position) {
    const pawn = position.epSquare + (position.turn === 'white' ? -8 : 8);
    const origin = position.epSquare + (position.turn === 'white' ? 8 : -8);
    const occupied = position.board.occupied.without(pawn).with(origin);
    return position.kingAttackers(position.board.kingOf(position.turn), opposite(position.turn), occupied).without(pawn).nonEmpty();
}

// Why a text may be refused that chessops takes for a position.
const REASONS = {
    'missing field': ({ fields }) => fields.length < 4,
    'rank count': ({ fields }) => fields[0].split('/').length !== 8,
    'pawns': ({ board }) => SIDES.some((side) => board.pieces(side, 'pawn').size() > 8),
    'men': ({ board }) => SIDES.some((side) => board.pieces(side, 'pawn').size() + promotedMen(board, side) > 8),
    'impossible check': ({ position }) => position.ctx().checkers.size() > 2,
    'castling text': ({ fields }) => !/^(-|[KQkq]{1,4})$/.test(fields[2]) || new Set(fields[2]).size < fields[2].length,
    'castling': ({ fields, board }) => ![...fields[2]].every((letter) => castlingStands(board, letter)),
    'en passant': ({ board, position }) => position.epSquare === undefined || board.occupied.has(position.epSquare) || inCheckBefore(position),
    'halfmoves': ({ fields }) => fields[3] !== '-' && Number(fields[4]) !== 0,
    'fullmove': ({ fields }) => Number(fields[5]) === 0,
};
// What chessops refuses, too, always.
const REFUSED = ['bad man', 'rank length', 'king count', 'pawn on edge', 'kings touch', 'side', 'wrong side in check', 'en passant text',
    'text behind'];

function accepted(line, position) {
    if (!position) return 'chessops refuses it';
    const { epSquare, halfmoves, fullmoves } = position;
    const theirs = makeFen({ ...position.toSetup(), epSquare, halfmoves, fullmoves });
    if (theirs !== line.fen) return `read as ${line.fen}; chessops: ${theirs}`;
    const [ours, wanted] = [line.moves.map((lan) => normalizeMove(position, parseUci(lan))), legalMoves(position)]
        .map((moves) => moves.map(makeUci).sort().join(' '));
    return ours === wanted ? null : `moves ${ours}; chessops: ${wanted}`;
}

function refused(line, position) {
    if (!position) return null;
    const known = { fields: line.text.trim().split(/\s+/), board: position.board, position };
    return REASONS[line.error]?.(known) ? null : `refused (${line.error}); chessops takes it`;
}

/** Reads the lines of the program and judges each. Returns a line that says what was covered. */
export async function compareFens(emitter, count) {
    const child = spawn(emitter, [String(count)], { stdio: ['ignore', 'pipe', 'inherit'] });
    const status = new Promise((resolve) => child.on('close', resolve));
    const seen = new Map(['none', ...Object.keys(REASONS), ...REFUSED].map((error) => [error, 0]));
    let read = 0;
    for await (const text of createInterface({ input: child.stdout })) {
        const line = JSON.parse(text);
        const position = parseFen(line.text.trim()).chain((setup) => Chess.fromSetup(setup)).unwrap((value) => value, () => null);
        const problem = line.error === 'none' ? accepted(line, position) : refused(line, position);
        check(!problem, () => `${JSON.stringify(line.text)}: ${problem}`);
        seen.set(line.error, (seen.get(line.error) ?? 0) + 1);
        read++;
    }
    check((await status) === 0, () => `${emitter} ended badly`);
    check(read === count, () => `${read} FENs instead of ${count}`);
    for (const [error, times] of seen) check(times > 0, () => `no ${error} in all ${read} FENs`);
    return `${read} FENs: ${[...seen].map(([error, times]) => `${error} ${times}`).join(', ')}`;
}

if (process.argv[1] && resolve(process.argv[1]) === import.meta.filename) {
    console.log(await compareFens(join(resolve(process.argv[2] ?? 'build'), 'tests/reference/emit_fens'), Number(process.argv[3] ?? 30000)));
    console.log(closing());
    process.exit(allGood() ? 0 : 1);
}
