// Drives the built engine with node-uci, a client of the protocol, through a whole game; chessops is the arbiter.
import { Chess, normalizeMove } from 'chessops/chess';
import { INITIAL_FEN, makeFen, parseFen } from 'chessops/fen';
import { makeUci, parseUci } from 'chessops/util';
import uci from 'node-uci';
import { check } from './tally.mjs';

const PLIES_MAX = 600;
const HANG_MS = 60000;

// Hangs must end the run; nothing here depends on how long anything takes.
function orHang(promise, what) {
    let timer;
    const hang = new Promise((_, reject) => {
        timer = setTimeout(() => reject(new Error(`no answer to ${what}`)), HANG_MS);
    });
    return Promise.race([promise, hang]).finally(() => clearTimeout(timer));
}

const start = () => Chess.fromSetup(parseFen(INITIAL_FEN).unwrap()).unwrap();

function play(position, text) {
    const move = parseUci(text);
    if (!move || !position.isLegal(move)) return false;
    position.play(normalizeMove(position, move));
    return true;
}

function ended(position, standings) {
    if (position.isEnd() || position.halfmoves >= 150) return true;
    const standing = makeFen(position.toSetup(), { epd: true });
    standings.set(standing, (standings.get(standing) ?? 0) + 1);
    return standings.get(standing) >= 5;
}

// The client's own isready() takes the answer only as the last line of what it reads at once; during a search more may follow.
function readyDuringSearch(engine) {
    return new Promise((resolve) => {
        let text = '';
        const read = (chunk) => {
            text += chunk;
            if (!/^readyok\r?$/m.test(text)) return;
            engine.proc.stdout.removeListener('data', read);
            resolve();
        };
        engine.proc.stdout.on('data', read);
        engine.write('isready');
    });
}

async function handshake(engine) {
    check(/^Pawnvane/.test(engine.id.name ?? ''), () => `the engine calls itself ${engine.id.name}`);
    check(Boolean(engine.id.author), () => 'the engine names no author');
    for (const option of ['Hash', 'Ponder', 'MultiPV', 'UCI_AnalyseMode', 'UCI_Chess960', 'LeverWeight',
        'LeverRule', 'PlanNotes', 'SparStyle', 'SparMargin', 'SparSeed', 'UCI_LimitStrength',
        'UCI_Elo'])
        check(engine.options.has(option), () => `the option ${option} is missing`);
}

async function wholeGame(engine) {
    const position = start();
    const standings = new Map();
    const moves = [];
    await orHang(engine.ucinewgame(), 'ucinewgame');
    while (!ended(position, standings) && moves.length < PLIES_MAX) {
        await orHang(engine.position('startpos', moves), 'position');
        // Each side in its own way, so that the two need not repeat forever.
        const limits = moves.length % 2 ? { nodes: 500 } : { depth: 4 };
        const { bestmove, info } = await orHang(engine.go(limits), 'go');
        const legal = play(position, bestmove);
        check(legal, () => `move ${moves.length + 1} of the game, ${bestmove}, is illegal`);
        if (!legal) return `a game of ${moves.length} half-moves, broken off`;
        const scored = info.filter((line) => line.score && line.pv);
        check(scored.length > 0, () => `move ${moves.length + 1}: no line with a score and moves`);
        moves.push(bestmove);
    }
    check(ended(position, standings), () => `no end after ${PLIES_MAX} half-moves`);
    const outcome = position.outcome();
    return `a game of ${moves.length} half-moves, ${outcome?.winner ? `won by ${outcome.winner}` : 'drawn'}`;
}

async function endlessSearch(engine) {
    await orHang(engine.position('startpos', ['e2e4', 'e7e5']), 'position');
    const emitter = engine.goInfinite({ searchmoves: ['g1f3', 'f1c4'] });
    await orHang(new Promise((resolve) => emitter.on('data', (line) => line.depth >= 3 && resolve())), 'go infinite');
    await orHang(readyDuringSearch(engine), 'isready during the search');
    const { bestmove } = await orHang(engine.stop(), 'stop');
    check(['g1f3', 'f1c4'].includes(bestmove), () => `searchmoves g1f3 f1c4 gave ${bestmove}`);
}

async function chess960(engine) {
    await orHang(engine.setoption('UCI_Chess960', 'true'), 'setoption');
    const position = Chess.fromSetup(parseFen('4k3/8/8/8/8/8/8/5K1R w H - 0 1').unwrap()).unwrap();
    await orHang(engine.position('4k3/8/8/8/8/8/8/5K1R w H - 0 1', []), 'position');
    const { bestmove } = await orHang(engine.go({ searchmoves: ['f1h1'], depth: 3 }), 'go');
    check(bestmove === 'f1h1' && play(position, bestmove), () => `castling as the king taking its rook gave ${bestmove}`);
    check(makeUci({ from: position.board.kingOf('white'), to: position.board.rook.first() }) === 'g1f1',
        () => 'the castled men stand wrong');
    await orHang(engine.setoption('UCI_Chess960', 'false'), 'setoption');
}

// A pupil, who plays whatever comes to mind, meets a partner of 1400 that carries its plan out, from the advance variation.
async function sparring(engine) {
    const options = { SparStyle: 'faithful', SparMargin: '60', PlanNotes: 'true', UCI_LimitStrength: 'true', UCI_Elo: '1400' };
    for (const [name, value] of Object.entries(options)) await orHang(engine.setoption(name, value), 'setoption');
    await orHang(engine.ucinewgame(), 'ucinewgame');
    const position = start();
    const standings = new Map();
    const moves = ['e2e4', 'e7e6', 'd2d4', 'd7d5', 'e4e5'];
    const notes = [];
    const read = (chunk) => notes.push(...String(chunk).split(/\r?\n/).filter((line) => line.startsWith('info string ')));
    moves.forEach((move) => play(position, move));
    engine.proc.stdout.on('data', read);
    let chance = 24;
    while (!ended(position, standings) && moves.length < 120) {
        let move;
        if (position.turn === 'black') {
            await orHang(engine.position('startpos', moves), 'position');
            move = (await orHang(engine.go({ wtime: 60000, btime: 60000, winc: 100, binc: 100 }), 'go')).bestmove;
        } else {
            const all = [...position.allDests()].flatMap(([from, dests]) => [...dests].map((to) => makeUci({ from, to })));
            const legal = all.map((text) => [text, `${text}q`].find((one) => play(position.clone(), one))).filter(Boolean);
            chance = (chance * 1103515245 + 12345) % 2147483648;
            move = legal[Math.floor((chance / 2147483648) * legal.length)];
        }
        const legal = play(position, move);
        check(legal, () => `move ${moves.length + 1} of the sparring, ${move}, is illegal`);
        if (!legal) break;
        moves.push(move);
    }
    engine.proc.stdout.removeListener('data', read);
    check(notes.some((note) => note.includes('Black has a plan')), () => 'the partner does not tell its plan');
    check(notes.every((note) => !note.includes('error')), () => `the partner complains: ${notes.find((note) => note.includes('error'))}`);
    check(notes.every((note) => note.endsWith('.')), () => `no sentence: ${notes.find((note) => !note.endsWith('.'))}`);
    const usual = { SparStyle: 'objective', SparMargin: '30', PlanNotes: 'false', UCI_LimitStrength: 'false' };
    for (const [name, value] of Object.entries(usual)) await orHang(engine.setoption(name, value), 'setoption');
    return `a sparring of ${moves.length} half-moves`;
}

/** Returns a line that says what was played. */
export async function driveEngine(path) {
    const engine = new uci.Engine(path);
    await orHang(engine.init(), 'uci');
    await handshake(engine);
    await orHang(engine.isready(), 'isready');
    const told = await wholeGame(engine);
    const spar = await sparring(engine);
    await endlessSearch(engine);
    await chess960(engine);
    await orHang(engine.quit(), 'quit');
    return `${told}, and ${spar}`;
}
