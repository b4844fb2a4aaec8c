#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/base/monotonic.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

#include <inttypes.h>
#include <stdio.h>

enum { PERFT_DEPTH_MAX = 20 };

Status perft_command(int argc, char **argv)
{
    int64_t depth = 0;
    const char *fen = FEN_START;
    const Option options[] = {
        {.name = "depth",
         .argument = "N",
         .help = "how many plies deep, 1 to 20",
         .integer = &depth,
         .least = 1,
         .greatest = PERFT_DEPTH_MAX,
         .required = true},
        {.name = "fen", .argument = "FEN", .help = "the position", .text = &fen},
        {0},
    };
    static const Usage usage = {"--depth N [--fen FEN]",
                                "Counts the leaves of the tree of legal moves: a line for each move at the "
                                "root, then the sum and the\n"
                                "seconds it took. The sum can be compared with published counts."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc > 0) {
        complain(NULL, 0,
                 "perft: \"%s\" is one argument too many; expected the position behind --fen, quoted",
                 argv[0]);
        return STATUS_MISUSED;
    }

    Position position;
    FenError error = fen_parse(fen, false, &position, NULL);
    if (error) {
        complain(NULL, 0, "--fen is \"%s\": %s", fen, fen_error_text(error));
        return STATUS_MISUSED;
    }
    MoveList moves;
    movegen_all(&position, &moves);
    double start = monotonic_seconds();
    uint64_t nodes = 0;
    for (int i = 0; i < moves.count; i++) {
        Position next = position;
        char text[MOVE_TEXT_SIZE];
        lan_write(&position, moves.moves[i], text);
        position_play(&next, moves.moves[i]);
        uint64_t leaves = perft(&next, (int)depth - 1);
        nodes += leaves;
        printf("%s %" PRIu64 "\n", text, leaves);
    }
    printf("nodes %" PRIu64 " seconds %.3f\n", nodes, monotonic_seconds() - start);
    return STATUS_DONE;
}
