#include "structure/structure.h"

/* clang-format off */
static const char *const side_names[] = {"white", "black"};

static const char *const grade_names[PS_GRADE_COUNT] = {
    [PS_VOID] = "void", [PS_DOUBTFUL] = "doubtful", [PS_LIKELY] = "likely", [PS_FIRM] = "firm",
};

static const char *const status_names[PS_STATUS_COUNT] = {
    [PS_PLAYED] = "played", [PS_READY] = "ready", [PS_OPEN] = "open", [PS_UNSUPPORTED] = "unsupported",
    [PS_OBSTRUCTED] = "obstructed", [PS_BEYOND] = "beyond", [PS_CLEARED] = "cleared",
    [PS_BARRED] = "barred", [PS_GONE] = "gone",
};

static const char *const verdict_names[PS_VERDICT_COUNT] = {
    [PS_APPLIES] = "applies", [PS_FULFILLED] = "fulfilled", [PS_MISLEADING] = "misleading",
    [PS_WEAK] = "weak", [PS_NONE] = "none",
};

static const char *const region_names[PS_REGION_COUNT] = {
    [PS_QUEENSIDE] = "queenside", [PS_CENTRE] = "centre", [PS_KINGSIDE] = "kingside",
};

static const char *const near_miss_names[PS_NEAR_MISS_COUNT] = {
    [PS_NOT_LINKED] = "not_linked", [PS_SAME_WAY] = "same_way",
    [PS_NOT_RAMMED] = "not_rammed", [PS_RIM] = "rim",
};

static const char *const break_kind_names[PS_BREAK_KIND_COUNT] = {
    [PS_BASE] = "base", [PS_HEAD] = "head", [PS_OTHER] = "other",
};

static const char *const rule_names[PS_RULE_COUNT] = {[PS_STRICT] = "strict", [PS_LOOSE] = "loose"};

static const char *const part_names[PS_PART_COUNT] = {
    [PS_PART_LEVER] = "lever", [PS_PART_SUPPORT] = "support",
    [PS_PART_ROOM] = "room", [PS_PART_PIECES] = "pieces",
};

static const char *const files_names[7][8] = {
    {[1] = "ab", "abc", "abcd", "abcde", "abcdef", "abcdefg", "abcdefgh"},
    {[2] = "bc", "bcd", "bcde", "bcdef", "bcdefg", "bcdefgh"},
    {[3] = "cd", "cde", "cdef", "cdefg", "cdefgh"},
    {[4] = "de", "def", "defg", "defgh"},
    {[5] = "ef", "efg", "efgh"},
    {[6] = "fg", "fgh"},
    {[7] = "gh"},
};

static const char *const square_names[] = {
    "a1", "b1", "c1", "d1", "e1", "f1", "g1", "h1", "a2", "b2", "c2", "d2", "e2", "f2", "g2", "h2",
    "a3", "b3", "c3", "d3", "e3", "f3", "g3", "h3", "a4", "b4", "c4", "d4", "e4", "f4", "g4", "h4",
    "a5", "b5", "c5", "d5", "e5", "f5", "g5", "h5", "a6", "b6", "c6", "d6", "e6", "f6", "g6", "h6",
    "a7", "b7", "c7", "d7", "e7", "f7", "g7", "h7", "a8", "b8", "c8", "d8", "e8", "f8", "g8", "h8",
};
/* clang-format on */

const char *ps_side_name(ps_side side)
{
    return side_names[side];
}

const char *ps_grade_name(ps_grade grade)
{
    return grade_names[grade];
}

const char *ps_status_name(ps_status status)
{
    return status_names[status];
}

const char *ps_verdict_name(ps_verdict verdict)
{
    return verdict_names[verdict];
}

const char *ps_region_name(ps_region region)
{
    return region_names[region];
}

const char *ps_near_miss_name(ps_near_miss near_miss)
{
    return near_miss_names[near_miss];
}

const char *ps_break_kind_name(ps_break_kind kind)
{
    return break_kind_names[kind];
}

const char *ps_rule_name(ps_rule rule)
{
    return rule_names[rule];
}

const char *ps_part_name(ps_part part)
{
    return part_names[part];
}

const char *ps_files_name(int first, int last)
{
    return files_names[first][last];
}

const char *ps_square_name(int square)
{
    return square == PS_NO_SQUARE ? "-" : square_names[square];
}
