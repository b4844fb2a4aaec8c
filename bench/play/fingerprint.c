#include "bench/play/fingerprint.h"
#include "bench/base/byte_hash.h"
#include "bench/base/complaint.h"
#include "bench/play/arm_options.h"
#include "bench/play/source_hash.h"
#include "engine/protocol/version.h"
#include "engine/rules/fen.h"

#include <errno.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { FINGERPRINT_DEPTH = 7 };

/* Between them: an opening, a locked centre, an endgame. */
static const char *const positions[] = {
    FEN_START,
    "r1bq1rk1/pp1nbppp/2n1p3/2ppP3/3P1P2/2N1BN2/PPPQ2PP/R3KB1R w KQ - 0 9",
    "8/pp3k2/2p1p1p1/3pP2p/3P1P1P/2P1K1P1/PP6/8 w - - 0 1",
};

static bool search_all(Player *player, uint64_t *hash)
{
    for (size_t i = 0; i < sizeof positions / sizeof *positions; i++) {
        Position position;
        Game game;
        SearchResult result;
        fen_parse(positions[i], false, &position, NULL);
        if (!game_start(&game, &position))
            return false;
        player_forget(player);
        player_think(player, &game, &(SearchLimits){.depth = FINGERPRINT_DEPTH}, NULL, &result);
        game_free(&game);
        uint64_t found[] = {result.best, (uint64_t)result.line.score, result.nodes};
        *hash = byte_hash(*hash, found, sizeof found);
    }
    return true;
}

bool fingerprint_built_in(char text[FINGERPRINT_SIZE])
{
    Player *player = player_new(1);
    uint64_t hash = BYTE_HASH_START;
    bool good = player != NULL;
    for (int rule = 0; good && rule < PS_RULE_COUNT; rule++) {
        player_settings(player)->lever_rule = rule;
        good = search_all(player, &hash);
    }
    player_free(player);
    snprintf(text, FINGERPRINT_SIZE, "Pawnvane %s, fingerprint %016" PRIx64 ", sources %s", PAWNVANE_VERSION,
             hash, source_hash);
    return good;
}

bool fingerprint_program(const Arm *arm, char text[FINGERPRINT_SIZE])
{
    const char *path = arm->engine;
    unsigned char block[4096];
    uint64_t hash = BYTE_HASH_START;
    FILE *file = fopen(path, "rb");
    for (size_t got; file && (got = fread(block, 1, sizeof block, file)) > 0;)
        hash = byte_hash(hash, block, got);
    if (!file || ferror(file)) {
        complain(path, 0, "cannot be read: %s; expected an engine", strerror(errno));
        if (file)
            fclose(file);
        return false;
    }
    fclose(file);
    UciClient *client = uci_client_start(path, UCI_PATIENCE_MS);
    bool sound = client && uci_client_fault(client) == UCI_SOUND;
    if (client && !sound)
        complain(path, 0, "%s; expected an engine that speaks the UCI protocol",
                 uci_client_fault_text(client));
    sound = sound && arm_options_fit(client, arm);
    if (sound)
        snprintf(text, FINGERPRINT_SIZE, "%.80s, file hash %016" PRIx64, uci_client_name(client), hash);
    uci_client_stop(client);
    return sound;
}
