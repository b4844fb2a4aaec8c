#include "bench/pgn/pgn_start.h"
#include "engine/rules/fen.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

typedef struct VariantName {
    const char *name; /* small letters and digits only */
    bool chess960;
} VariantName;

/* What files call games by the usual rules, and Chess960 (common practice, no source). Any other name is that
 * of another game. */
static const VariantName variant_names[] = {
    {"", false},
    {"standard", false},
    {"normal", false},
    {"chess", false},
    {"classical", false},
    {"fromposition", false},
    {"chess960", true},
    {"960", true},
    {"fischerandom", true},
    {"fischerrandom", true},
    {"frc", true},
};

enum { NAME_SIZE = 32 };

static const VariantName *find_variant(PgnText text)
{
    char name[NAME_SIZE];
    size_t length = 0;
    for (size_t i = 0; i < text.length && length + 1 < NAME_SIZE; i++)
        if (isalnum((unsigned char)text.start[i]))
            name[length++] = (char)tolower((unsigned char)text.start[i]);
    name[length] = '\0';
    for (size_t i = 0; i < sizeof variant_names / sizeof *variant_names; i++)
        if (strcmp(name, variant_names[i].name) == 0)
            return &variant_names[i];
    return NULL;
}

static FenError read_fen(const char *fen, bool chess960, Position *start)
{
    FenError error = fen_parse(fen, chess960, start, NULL);
    bool castling = error == FEN_BAD_CASTLING_TEXT || error == FEN_CASTLING_CANNOT_BE;
    return castling && !chess960 && fen_parse(fen, true, start, NULL) == FEN_OK ? FEN_OK : error;
}

const PgnText *pgn_read_start(const PgnStartTags *tags, Position *start, char error[PGN_START_ERROR_SIZE])
{
    const VariantName *variant = find_variant(tags->variant);
    char text[FEN_SIZE] = FEN_START;
    if (variant == NULL) {
        pgn_text_copy(tags->variant, text, NAME_SIZE);
        snprintf(error, PGN_START_ERROR_SIZE, "the variant is \"%s\"; expected chess or Chess960", text);
        return &tags->variant;
    }
    if (tags->fen.length > 0 && !pgn_text_is(tags->set_up, "0"))
        pgn_text_copy(tags->fen, text, sizeof text);
    FenError bad = read_fen(text, variant->chess960, start);
    if (bad == FEN_OK)
        return NULL;
    snprintf(error, PGN_START_ERROR_SIZE, "the FEN is \"%s\": %s", text, fen_error_text(bad));
    return &tags->fen;
}
