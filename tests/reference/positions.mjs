// Compares the positions of emit_positions.c with chessops: FEN, legal moves, SAN, and how games end.
//
// chessops plays each game by itself, from its first position and the moves. It writes an en passant square only
// where a legal capture exists; the PGN standard, which Pawnvane follows, wants one after every double step. So
// the square is taken from chessops' own state behind the move, not from the text it would write.
import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { Chess, normalizeMove } from 'chessops/chess';
import { makeFen, parseFen } from 'chessops/fen';
import { makeSan, parseSan } from 'chessops/san';
import { makeUci, parseUci } from 'chessops/util';
import { check } from './tally.mjs';

const PROMOTIONS = ['queen', 'rook', 'bishop', 'knight'];

const read = (fen) => Chess.fromSetup(parseFen(fen).unwrap()).unwrap();

const fullFen = (position) => makeFen({ ...position.toSetup(), epSquare: position.epSquare });

// What makes a position the same in article 9.2.3 of the FIDE Laws: chessops' text without the counters.
const standing = (position) => makeFen(position.toSetup(), { epd: true });

export function legalMoves(position) {
    const moves = [];
    for (const [from, goals] of position.allDests())
        for (const to of goals) {
            const last = to < 8 || to >= 56;
            if (last && position.board.pawn.has(from))
                for (const promotion of PROMOTIONS) moves.push({ from, to, promotion });
            else moves.push({ from, to });
        }
    return moves;
}

function end(position, times, claims) {
    if (position.isCheckmate()) return 'checkmate';
    if (position.isStalemate()) return 'stalemate';
    if (position.isInsufficientMaterial()) return 'material';
    if (times >= 5) return 'fivefold';
    if (position.halfmoves >= 150) return 'seventy-five';
    if (claims && times >= 3) return 'threefold';
    if (claims && position.halfmoves >= 100) return 'fifty';
    return 'none';
}

const sorted = (values) => [...values].sort().join(' ');

// What has come up; a comparison that never saw a castling proves nothing about castling.
const wanted = ['capture', 'en passant', 'castling short', 'castling long', 'promotion', 'check', 'mate', 'rank named',
    'square named', 'end checkmate', 'end stalemate', 'end material', 'end fivefold', 'end seventy-five',
    'claim threefold', 'claim fifty', 'Chess960'];
const seen = new Map(wanted.map((kind) => [kind, 0]));
const see = (kind, times = 1) => seen.set(kind, (seen.get(kind) ?? 0) + times);

function noteMove(position, move, san) {
    if (san.includes('x')) see('capture');
    if (position.board.pawn.has(move.from) && move.to === position.epSquare) see('en passant');
    if (/^O-O(?!-O)/.test(san)) see('castling short');
    if (san.startsWith('O-O-O')) see('castling long');
    if (san.includes('=')) see('promotion');
    if (san.endsWith('+')) see('check');
    if (san.endsWith('#')) see('mate');
    if (/^[NBRQ][1-8]x?[a-h][1-8]/.test(san)) see('rank named');
    if (/^[NBRQ][a-h][1-8]x?[a-h][1-8]/.test(san)) see('square named');
}

function comparePosition(position, line, times) {
    const problems = [];
    const agree = (what, ours, theirs) => {
        if (ours !== theirs) problems.push(`${what}: ${ours}; chessops: ${theirs}`);
    };
    agree('FEN', line.fen, fullFen(position));
    agree('FEN read again', line.fen, fullFen(read(line.fen)));
    const theirs = legalMoves(position);
    agree('moves', sorted(line.moves.map(([lan]) => makeUci(normalizeMove(position, parseUci(lan))))),
        sorted(theirs.map(makeUci)));
    for (const [lan, san] of line.moves) {
        const move = normalizeMove(position, parseUci(lan));
        agree(`SAN of ${lan}`, san, makeSan(position, move));
        agree(`${san} read`, makeUci(move), makeUci(parseSan(position, san) ?? { from: 0, to: 0 }));
        noteMove(position, move, san);
    }
    agree('end', line.end, end(position, times, false));
    agree('end with claims', line.claim, end(position, times, true));
    see(`end ${line.end}`);
    see(`claim ${line.claim}`);
    check(problems.length === 0, () => `${line.fen}\n    ${problems.join('\n    ')}`);
}

/** Reads the lines of the program and compares each. Returns a line that says what was covered. */
export async function comparePositions(emitter, count) {
    const child = spawn(emitter, [String(count)], { stdio: ['ignore', 'pipe', 'inherit'] });
    const status = new Promise((resolve) => child.on('close', resolve));
    let position;
    let history;
    let positions = 0;
    for await (const text of createInterface({ input: child.stdout })) {
        const line = JSON.parse(text);
        if (line.start) {
            position = read(line.start);
            history = new Map();
            if (line.chess960) see('Chess960');
            continue;
        }
        const times = (history.get(standing(position)) ?? 0) + 1;
        history.set(standing(position), times);
        comparePosition(position, line, times);
        positions++;
        if (line.played) position.play(normalizeMove(position, parseUci(line.played)));
    }
    check((await status) === 0, () => `${emitter} ended badly`);
    check(positions >= count, () => `only ${positions} positions came`);
    for (const kind of wanted) check(seen.get(kind) > 0, () => `no ${kind} in all ${positions} positions`);
    return `${positions} positions: ${wanted.map((kind) => `${kind} ${seen.get(kind)}`).join(', ')}`;
}
