#include "bench/lesson/comparison.h"
#include "bench/contrast/judge.h"
#include "engine/rules/fen.h"

#include <limits.h>
#include <stdlib.h>

const JudgementWords judgements[JUDGEMENT_COUNT] = {
    [JUDGED_BEST] = {15, "as good as anything", 0},
    [JUDGED_SOUND] = {CLEARLY_BEHIND - 1, "sound", 0},
    [JUDGED_CLOSE] = {CLEARLY_BEHIND - 1, "too close to call", 0},
    [JUDGED_COSTLY] = {150, "costly", 6},
    [JUDGED_BAD] = {INT_MAX, "bad", 2},
};

enum { GOOD_MOVE = 1 }; /* PGN standard, 1994, section 10 */

int judged_glyph(const JudgedMove *judged)
{
    return judged->only_good ? GOOD_MOVE : judgements[judged->judgement].glyph;
}

void judged_compare(JudgedMove *judged, const JudgedMove *best)
{
    int behind = judged_cut_off(best->score) - judged_cut_off(judged->score);
    judged->behind = behind > 0 ? behind : 0;
    judged->judgement = JUDGED_BEST;
    while (judged->behind > judgements[judged->judgement].behind_at_most)
        judged->judgement++;
    if (judged->judgement > JUDGED_BEST && judged->behind <= judged->doubt)
        judged->judgement = JUDGED_CLOSE;
}

/* ------------------------------------------------------------------------------------------- searching */

/* What a search has told. */
typedef struct Finding {
    Move move;         /* the best of those searched */
    uint64_t nodes;    /* the limit; 0: none */
    Thoughts thoughts; /* of finished depths */
    SearchLine line;   /* at the greatest of these */
} Finding;

struct Comparison {
    Player *player;
    Game game;
    Effort effort;
    MoveList legal;
    int depth; /* that all findings have finished */
    bool rival_known;
    int count;
    Finding findings[MOVES_MAX]; /* of one move each; the choice is the first */
};

/* An iteration that the limit of nodes cuts off has not compared all moves, or has only a bound. */
static void listen(void *context, const Position *root, const SearchLine *line)
{
    Finding *finding = context;
    (void)root;
    bool finished = finding->nodes == 0 || line->nodes < finding->nodes;
    if (line->rank != 1 || line->bound != BOUND_EXACT || !finished)
        return;
    finding->thoughts.deepest = line->depth;
    finding->thoughts.scores[line->depth] = line->score;
    finding->thoughts.nodes[line->depth] = line->nodes;
    finding->line = *line;
}

static void search_within(Comparison *comparison, const MoveList *moves, int depth, uint64_t nodes,
                          Finding *finding)
{
    const SearchLimits limits = {.depth = depth, .nodes = nodes, .only = moves};
    const SearchListener listener = {.line = listen, .context = finding};
    SearchResult result;
    *finding = (Finding){.nodes = nodes};
    if (comparison->effort.searching != NULL)
        comparison->effort.searching(comparison->effort.context);
    player_forget(comparison->player);
    player_think(comparison->player, &comparison->game, &limits, &listener, &result);
    finding->move = result.best;
}

/* One ply is always searched, so that there is something to compare. */
static void search(Comparison *comparison, const MoveList *moves, int depth, Finding *finding)
{
    search_within(comparison, moves, depth, comparison->effort.nodes, finding);
    if (finding->thoughts.deepest == 0)
        search_within(comparison, moves, 1, 0, finding);
}

enum { SAMPLE_MS = 300 };

uint64_t effort_nodes_in(Player *player, int64_t milliseconds)
{
    Position start;
    Game game;
    SearchResult result;
    if (fen_parse(FEN_START, false, &start, NULL) != FEN_OK || !game_start(&game, &start))
        return 0;
    player_forget(player);
    player_think(player, &game, &(SearchLimits){.hard_ms = SAMPLE_MS}, NULL, &result);
    game_free(&game);
    uint64_t nodes = result.nodes * (uint64_t)milliseconds / SAMPLE_MS, round = 1;
    while (nodes / round >= 100)
        round *= 10;
    return nodes < 1000 ? 1000 : nodes / round * round;
}

/* ------------------------------------------------------------------------------------------- comparing */

static const Finding *find(const Comparison *comparison, Move move)
{
    for (int i = 0; i < comparison->count; i++)
        if (comparison->findings[i].move == move)
            return &comparison->findings[i];
    return NULL;
}

void comparison_add(Comparison *comparison, Move move)
{
    const MoveList only = {.count = 1, .moves = {move}};
    if (find(comparison, move) != NULL)
        return;
    Finding *finding = &comparison->findings[comparison->count++];
    search(comparison, &only, comparison->depth, finding);
    if (finding->thoughts.deepest < comparison->depth)
        comparison->depth = finding->thoughts.deepest;
}

Comparison *comparison_new(Player *player, const Position *position, const Effort *effort)
{
    Comparison *comparison = calloc(1, sizeof *comparison);
    if (comparison == NULL || !game_start(&comparison->game, position)) {
        free(comparison);
        return NULL;
    }
    Finding all;
    comparison->player = player;
    comparison->effort = *effort;
    movegen_all(position, &comparison->legal);
    search(comparison, NULL, 0, &all);
    comparison->depth = all.thoughts.deepest;
    comparison_add(comparison, all.move);
    return comparison;
}

void comparison_free(Comparison *comparison)
{
    if (comparison == NULL)
        return;
    game_free(&comparison->game);
    free(comparison);
}

static int score_of(const Comparison *comparison, const Finding *finding)
{
    return finding->thoughts.scores[comparison->depth];
}

static const Finding *best_of(const Comparison *comparison)
{
    const Finding *best = &comparison->findings[0];
    for (int i = 1; i < comparison->count; i++)
        if (score_of(comparison, &comparison->findings[i]) > score_of(comparison, best))
            best = &comparison->findings[i];
    return best;
}

void comparison_add_rival(Comparison *comparison)
{
    const Move best = comparison_best(comparison);
    MoveList others = {0};
    Finding rival;
    for (int i = 0; i < comparison->legal.count; i++)
        if (comparison->legal.moves[i] != best)
            others.moves[others.count++] = comparison->legal.moves[i];
    if (others.count == 0)
        return;
    search(comparison, &others, comparison->depth, &rival);
    comparison_add(comparison, rival.move);
    comparison->rival_known = true;
}

static void describe(const Comparison *comparison, const Finding *finding, JudgedMove *judged)
{
    *judged = (JudgedMove){.move = finding->move, .score = score_of(comparison, finding)};
    san_write(&comparison->game.position, finding->move, judged->san);
}

void comparison_judge_against(const Comparison *comparison, Move move, Move other, JudgedMove *judged)
{
    const Finding *finding = find(comparison, move), *standard = find(comparison, other);
    JudgedMove first;
    describe(comparison, standard, &first);
    describe(comparison, finding, judged);
    judged->doubt =
        finding == standard ? 0 : judged_doubt(&standard->thoughts, &finding->thoughts, comparison->depth);
    judged_compare(judged, &first);
}

/* Whether all others are clearly behind the best. */
static bool stands_alone(const Comparison *comparison, const Finding *best)
{
    for (int i = 0; i < comparison->count; i++) {
        JudgedMove other;
        comparison_judge_against(comparison, comparison->findings[i].move, best->move, &other);
        if (&comparison->findings[i] != best && other.judgement < JUDGED_COSTLY)
            return false;
    }
    return comparison->rival_known;
}

void comparison_judge(const Comparison *comparison, Move move, JudgedMove *judged)
{
    const Finding *best = best_of(comparison);
    comparison_judge_against(comparison, move, best->move, judged);
    judged->only_good = judged->move == best->move && stands_alone(comparison, best);
}

Move comparison_choice(const Comparison *comparison)
{
    return comparison->findings[0].move;
}

Move comparison_best(const Comparison *comparison)
{
    return best_of(comparison)->move;
}

const SearchLine *comparison_line(const Comparison *comparison)
{
    return &best_of(comparison)->line;
}

int comparison_depth(const Comparison *comparison)
{
    return comparison->depth;
}
