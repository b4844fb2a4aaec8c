/* Plays random games and writes every position as a line of JSON, for positions.mjs to judge:
 *
 *     {"start": FEN, "chess960": BOOL}                  a game begins
 *     {"fen": FEN, "moves": [[LAN, SAN], ...], "end": END, "claim": END, "played": LAN or null}
 *
 * LAN has castling as the king taking its rook in games that begin as Chess960. END is a word of end_names,
 * once without and once with the ends that a player must claim.
 *
 *     emit_positions COUNT      at least that many positions */
#include "engine/rules/game.h"
#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

static const char *const end_names[GAME_END_COUNT] = {
    [GAME_GOES_ON] = "none",
    [GAME_CHECKMATE] = "checkmate",
    [GAME_STALEMATE] = "stalemate",
    [GAME_DEAD_MATERIAL] = "material",
    [GAME_FIVEFOLD_REPETITION] = "fivefold",
    [GAME_SEVENTY_FIVE_MOVES] = "seventy-five",
    [GAME_THREEFOLD_REPETITION] = "threefold",
    [GAME_FIFTY_MOVES] = "fifty",
};

/* Starts that lead to every kind of move and end: whole games, pawns that promote, a locked board on which
 * positions repeat, few men, three of a kind. Null: Chess960. */
static const char *const starts[] = {
    FEN_START,
    NULL,
    "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
    NULL,
    "4k3/pppppppp/8/8/8/8/PPPPPPPP/4K3 w - - 0 1",
    "k7/8/p1p1p1p1/P1P1P1P1/8/8/8/K7 w - - 0 1",
    NULL,
    "4k3/8/2b2p2/8/8/2P2B2/8/4K3 w - - 0 1",
    "r3k2r/1P4P1/8/2pP4/4Pp2/8/1p4p1/R3K2R b KQkq e3 0 1",
    "8/8/8/4k3/8/8/8/1R1K4 b - - 0 1",
    NULL,
    "4k3/4p3/8/2N1N3/8/2N1N3/8/4K3 w - - 0 1",
    "8/7p/8/8/4Q2Q/k7/8/3K3Q w - - 0 1",
};

enum { STARTS = sizeof starts / sizeof *starts, PLIES_MAX = 300 };

/* A random move, in every fourth game mostly back to where the last one came from, so
 * that positions repeat. */
static Move choose(Random *random, const Position *position, Move before, bool shuffles)
{
    Move back = move_make(move_to(before), move_from(before), PLAIN);
    if (shuffles && random_below(random, 4) && movegen_is_legal(position, back))
        return back;
    return playout_move(random, position);
}

static void emit(const Game *game, Move played)
{
    const Position *p = &game->position;
    MoveList list;
    char fen[FEN_SIZE], lan[MOVE_TEXT_SIZE], san[MOVE_TEXT_SIZE];
    fen_write(p, fen);
    movegen_all(p, &list);
    printf("{\"fen\":\"%s\",\"moves\":[", fen);
    for (int i = 0; i < list.count; i++) {
        lan_write(p, list.moves[i], lan);
        san_write(p, list.moves[i], san);
        printf("%s[\"%s\",\"%s\"]", i ? "," : "", lan, san);
    }
    printf("],\"end\":\"%s\",\"claim\":\"%s\",\"played\":", end_names[game_end(game, false)],
           end_names[game_end(game, true)]);
    if (played == NO_MOVE) {
        printf("null}\n");
    } else {
        lan_write(p, played, lan);
        printf("\"%s\"}\n", lan);
    }
}

static long emit_game(Random *random, const char *start, bool shuffles)
{
    Game game;
    Move played[2] = {NO_MOVE, NO_MOVE}; /* the last of either side */
    Position position = start ? playout_read(start, false) : playout_chess960(random);
    char fen[FEN_SIZE];
    fen_write(&position, fen);
    if (!game_start(&game, &position))
        abort();
    printf("{\"start\":\"%s\",\"chess960\":%s}\n", fen, position.chess960 ? "true" : "false");
    for (long ply = 0;; ply++) {
        bool ended = ply == PLIES_MAX || game_end(&game, false) != GAME_GOES_ON;
        Move move = ended ? NO_MOVE : choose(random, &game.position, played[ply % 2], shuffles);
        emit(&game, move);
        if (ended) {
            game_free(&game);
            return ply + 1;
        }
        if (!game_play(&game, move))
            abort();
        played[ply % 2] = move;
    }
}

int main(int argc, char **argv)
{
    long wanted = argc == 2 ? atol(argv[1]) : 0;
    if (wanted <= 0) {
        fprintf(stderr, "usage: emit_positions COUNT\n");
        return 2;
    }
    uint64_t game = 0;
    for (long emitted = 0; emitted < wanted; game++) {
        Random random = random_for_job(1, game);
        emitted += emit_game(&random, starts[game % STARTS], game % 4 == 3);
    }
    return 0;
}
