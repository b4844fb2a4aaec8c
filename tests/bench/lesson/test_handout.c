/* Lesson sheets: counting and calculating side by side, stories of games, and files that are never lost. */
#include "engine/evaluation/structure_view.h"
#include "tests/bench/harness.h"
#include "tests/bench/page/rendered.h"

#include "bench/lesson/handout.h"
#include "bench/lesson/lesson_page.h"
#include "bench/lesson/misreading.h"
#include "bench/lesson/story_page.h"
#include "bench/lesson/story_words.h"
#include "bench/pgn/pgn.h"
#include "bench/pgn/pgn_writer.h"
#include "engine/rules/fen.h"

static const LessonSettings quick = {.effort = {.nodes = 3000}, .sound_margin = 50};

static Player *new_player(void)
{
    Player *player = player_new(1);
    assert_non_null(player);
    player_settings(player)->lever_weight = 0;
    return player;
}

static Position position_from(const char *fen)
{
    Position position;
    assert_int_equal(fen_parse(fen, false, &position, NULL), FEN_OK);
    return position;
}

/* D. Kopec, I. Bratko, "The Bratko-Kopec Experiment", 1982: numbers 3, 11 and 17. */
#define KOPEC_3_FIELDS "2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - -"
#define KOPEC_3 "2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - - 0 1"
#define KOPEC_11 "2r1nrk1/p2q1ppp/bp1p4/n1pPp3/P1P1P3/2PBB1N1/4QPPP/R4RK1 w - - 0 1"
#define KOPEC_17 "r2q1rk1/1ppnbppp/p2p1nb1/3Pp3/2P1P1P1/2N2N1P/PPB1QP2/R1B2RK1 b - - 0 1"
#define KNIGHT_IN_THE_WAY "r1bq1rk1/pp1nbppp/4p3/2ppP3/3P4/2PB1N2/PP1N1PPP/R1BQ1RK1 w - - 0 1"

static const char *const positions[] = {KOPEC_3, KOPEC_11, KOPEC_17, KNIGHT_IN_THE_WAY, FEN_START};

enum { POSITION_COUNT = sizeof positions / sizeof *positions };

/* -------------------------------------------------------------------------------------- judgements */

static void a_move_is_judged_by_what_it_is_behind(void **state)
{
    (void)state;
    const Move first = move_make(E2, E4, PLAIN), second = move_make(D2, D4, PLAIN);
    const JudgedMove best = {.move = first, .score = 40};
    static const struct {
        int score, behind;
        Judgement judgement;
    } cases[] = {{60, 0, JUDGED_BEST},       {40, 0, JUDGED_BEST},    {25, 15, JUDGED_BEST},
                 {24, 16, JUDGED_SOUND},     {-10, 50, JUDGED_SOUND}, {-11, 51, JUDGED_COSTLY},
                 {-110, 150, JUDGED_COSTLY}, {-111, 151, JUDGED_BAD}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        JudgedMove move = {.move = second, .score = cases[i].score};
        judged_compare(&move, &best);
        assert_int_equal(move.behind, cases[i].behind);
        assert_int_equal(move.judgement, cases[i].judgement);
    }
    /* What twice the nodes change as much is no verdict, but two moves that are equal are. */
    static const struct {
        int score, doubt;
        Judgement judgement;
    } doubtful[] = {{-20, 59, JUDGED_COSTLY}, {-20, 60, JUDGED_CLOSE}, {10, 29, JUDGED_SOUND},
                    {10, 30, JUDGED_CLOSE},   {30, 90, JUDGED_BEST},   {-400, 500, JUDGED_CLOSE}};
    for (size_t i = 0; i < sizeof doubtful / sizeof *doubtful; i++) {
        JudgedMove move = {.move = second, .score = doubtful[i].score, .doubt = doubtful[i].doubt};
        judged_compare(&move, &best);
        assert_int_equal(move.judgement, doubtful[i].judgement);
        assert_int_equal(judged_glyph(&move), move.judgement == JUDGED_COSTLY ? 6 : 0);
    }
    /* Two ways to win are as good as each other. */
    const JudgedMove mate = {.move = first, .score = SCORE_MATE - 5};
    JudgedMove winning = {.move = second, .score = 1200};
    judged_compare(&winning, &mate);
    assert_int_equal(winning.judgement, JUDGED_BEST);
}

/* ------------------------------------------------------------------------------------------ comparisons */

/* A search of one move to a depth, from nothing, without a limit of nodes, which are counted. */
static int score_and_count(Player *player, const Position *position, Move move, int depth, uint64_t *nodes)
{
    const MoveList only = {.count = 1, .moves = {move}};
    SearchResult result;
    Game game;
    assert_true(game_start(&game, position));
    player_forget(player);
    player_think(player, &game, &(SearchLimits){.depth = depth, .only = &only}, NULL, &result);
    game_free(&game);
    *nodes = result.nodes;
    return result.line.score;
}

static int score_alone(Player *player, const Position *position, Move move, int depth)
{
    uint64_t nodes;
    return score_and_count(player, position, move, depth, &nodes);
}

/* Every legal move is compared: the scores are those of equal searches, and the best has the greatest. */
static void moves_are_compared_at_one_depth(void **state)
{
    (void)state;
    Player *player = new_player();
    for (int i = 0; i < POSITION_COUNT; i++) {
        Position position = position_from(positions[i]);
        MoveList moves;
        JudgedMove judged;
        int greatest = -SCORE_MATE;
        movegen_all(&position, &moves);
        Comparison *comparison = comparison_new(player, &position, &(Effort){.nodes = 2000});
        assert_non_null(comparison);
        int depth = comparison_depth(comparison);
        for (int k = 0; k < moves.count; k++)
            comparison_add(comparison, moves.moves[k]);
        assert_in_range(comparison_depth(comparison), 1, depth);
        for (int k = 0; k < moves.count; k++) {
            comparison_judge(comparison, moves.moves[k], &judged);
            assert_int_equal(judged.score,
                             score_alone(player, &position, moves.moves[k], comparison_depth(comparison)));
            greatest = judged.score > greatest ? judged.score : greatest;
        }
        comparison_judge(comparison, comparison_best(comparison), &judged);
        assert_int_equal(judged.score, greatest);
        assert_int_equal(judged.behind, 0);
        assert_int_equal(comparison_line(comparison)->moves[0], comparison_best(comparison));
        comparison_free(comparison);
    }
    player_free(player);
}

/* The doubt of a difference is what it has changed by since half of the nodes were spent: searches to each depth say
 * the same. */
static void a_difference_is_as_doubtful_as_it_has_changed(void **state)
{
    (void)state;
    Player *player = new_player();
    int doubtful = 0;
    for (int i = 0; i < POSITION_COUNT; i++) {
        Position position = position_from(positions[i]);
        MoveList moves;
        movegen_all(&position, &moves);
        Comparison *comparison = comparison_new(player, &position, &(Effort){.nodes = 4000});
        for (int k = 0; k < 6; k++)
            comparison_add(comparison, moves.moves[k]);
        const Move best = comparison_best(comparison);
        const int depth = comparison_depth(comparison);
        for (int k = 0; k < 6; k++) {
            JudgedMove judged;
            uint64_t all = 0;
            int gap = 0, doubt = 0;
            comparison_judge(comparison, moves.moves[k], &judged);
            for (int d = depth; d > 0 && moves.moves[k] != best; d--) {
                uint64_t nodes[2];
                int at = score_and_count(player, &position, best, d, &nodes[0]) -
                         score_and_count(player, &position, moves.moves[k], d, &nodes[1]);
                gap = d == depth ? at : gap;
                all = d == depth ? nodes[0] + nodes[1] : all;
                doubt = abs(gap - at) > doubt ? abs(gap - at) : doubt;
                if (2 * (nodes[0] + nodes[1]) <= all)
                    break;
            }
            assert_int_equal(judged.doubt, doubt);
            doubtful += doubt > 0;
        }
        comparison_free(comparison);
    }
    assert_true(doubtful > 0);
    player_free(player);
}

/* In the first a rook takes a queen, in the second two rooks can, in the third there is no choice. */
static void the_only_good_move_is_told_from_others(void **state)
{
    (void)state;
    static const struct {
        const char *fen;
        int glyph;
    } cases[] = {{"3q3k/6pp/8/8/8/8/6PP/3R3K w - - 0 1", 1},
                 {"R2q3k/6pp/8/8/8/8/6PP/3R3K w - - 0 1", 0},
                 {"7k/8/8/8/8/8/1r6/7K w - - 0 1", 0},
                 {FEN_START, 0}};
    Player *player = new_player();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position position = position_from(cases[i].fen);
        JudgedMove judged;
        Comparison *comparison = comparison_new(player, &position, &(Effort){.nodes = 3000});
        comparison_judge(comparison, comparison_best(comparison), &judged);
        assert_false(judged.only_good);
        comparison_add_rival(comparison);
        comparison_judge(comparison, comparison_best(comparison), &judged);
        assert_int_equal(judged_glyph(&judged), cases[i].glyph);
        comparison_free(comparison);
    }
    player_free(player);
}

/* ------------------------------------------------------------------------------------------ lessons */

/* Every legal break of section 6 of the definitions is searched, no other move is. */
static void every_legal_break_is_judged(void **state)
{
    (void)state;
    Player *player = new_player();
    Lesson *lesson = malloc(sizeof *lesson);
    for (int i = 0; i < POSITION_COUNT; i++) {
        Position position = position_from(positions[i]);
        assert_true(lesson_make(lesson, &position, player, &quick));
        for (int side = WHITE; side <= BLACK; side++) {
            const LessonSide *study = &lesson->sides[side];
            assert_true(study->searched);
            assert_true(study->break_count <= lesson->analysis.breaks[side].count);
            for (int k = 0; k < study->break_count; k++) {
                const LessonBreak *judged = &study->breaks[k];
                assert_int_equal(move_from(judged->judged.move), judged->push.from);
                assert_int_equal(move_to(judged->judged.move), judged->push.to);
                assert_true(judged->judged.behind >= 0);
            }
        }
    }
    free(lesson);
    player_free(player);
}

/* At 10,000 positions a search, 6 of these 54 tables had a row above the best move when each move was
 * searched alone as long as all were together. */
static bool look_for_better_rows(void *context, const EpdRecord *record)
{
    Player *player = context;
    Lesson *lesson = malloc(sizeof *lesson);
    assert_true(lesson_make(lesson, &record->position, player,
                            &(LessonSettings){.effort = {.nodes = 10000}, .sound_margin = 50}));
    for (int side = WHITE; side <= BLACK; side++) {
        const LessonSide *study = &lesson->sides[side];
        for (int i = 0; i < study->break_count; i++)
            assert_true(study->breaks[i].judged.score <= study->best.score);
        for (int i = 0; i < study->preparation_count; i++)
            assert_true(study->preparations[i].judged.score <= study->best.score);
    }
    free(lesson);
    return true;
}

static void nothing_in_a_table_beats_its_best_move(void **state)
{
    (void)state;
    Player *player = player_new(16);
    assert_non_null(player);
    player_settings(player)->lever_weight = 0;
    assert_true(epd_read_file("bench/positions/bratko-kopec.epd", look_for_better_rows, player));
    assert_true(epd_read_file("bench/positions/scenario.epd", look_for_better_rows, player));
    player_free(player);
}

static void the_table_of_the_other_side_says_so(void **state)
{
    (void)state;
    Rendered r;
    Player *player = new_player();
    Lesson *lesson = malloc(sizeof *lesson);
    Position position = position_from(KOPEC_3);
    assert_true(lesson_make(lesson, &position, player, &quick));
    assert_true(lesson->sides[WHITE].break_count > 0);
    lesson_page_answer(rendered_open(&r), &(LessonEntry){.number = 1, .lesson = lesson}, false);
    const char *text = rendered_close(&r);
    const char *black = strstr(text, "The breaks that Black has now, by calculation to ");
    const char *white = strstr(text, "turn. If it were: its breaks, by calculation to ");
    assert_non_null(black);
    assert_non_null(white);
    assert_true(black < white);
    assert_non_null(strstr(white, "s best: "));
    free(r.text);
    free(lesson);
    player_free(player);
}

/* A lever's guards and attackers are counted in the table of the levers; of other breaks beside their kind. In
 * number 3 Black can break with f5, the base lever, and with h5. */
static void guards_and_attackers_are_counted_once(void **state)
{
    (void)state;
    Rendered r;
    Player *player = new_player();
    Lesson *lesson = malloc(sizeof *lesson);
    Position position = position_from(KOPEC_3);
    assert_true(lesson_make(lesson, &position, player, &quick));
    lesson_page_answer(rendered_open(&r), &(LessonEntry){.number = 1, .lesson = lesson}, false);
    const char *breaks = strstr(rendered_close(&r), "The breaks that Black has now");
    assert_non_null(breaks);
    const char *f5 = strstr(breaks, ">Black f5</th>"), *h5 = strstr(breaks, ">Black h5</th>");
    assert_non_null(f5);
    assert_non_null(h5);
    assert_non_null(strstr(f5, ">base lever</td>"));
    assert_non_null(strstr(h5, ">other break: guarded 2, attacked 2</td>"));
    assert_null(strstr(r.text, "By count"));
    free(r.text);
    free(lesson);
    player_free(player);
}

/* In number 3 the published move f5 is the base lever, and it is ready. */
static void the_published_lever_is_among_the_breaks(void **state)
{
    (void)state;
    Player *player = new_player();
    Lesson *lesson = malloc(sizeof *lesson);
    Position position = position_from(KOPEC_3);
    assert_true(lesson_make(lesson, &position, player, &quick));
    int found = 0;
    for (int i = 0; i < lesson->sides[BLACK].break_count; i++) {
        const LessonBreak *judged = &lesson->sides[BLACK].breaks[i];
        if (strcmp(judged->judged.san, "f5") != 0)
            continue;
        found++;
        assert_int_equal(judged->push.kind, PS_BASE);
        assert_false(judged->short_of_support);
    }
    assert_int_equal(found, 1);
    free(lesson);
    player_free(player);
}

/* What prepares a lever must bring it nearer, by an analysis from scratch, and must hold up. */
static void preparing_moves_lower_the_tempi_and_are_sound(void **state)
{
    (void)state;
    Player *player = new_player();
    Lesson *lesson = malloc(sizeof *lesson);
    int found = 0;
    for (int i = 0; i < POSITION_COUNT; i++) {
        Position position = position_from(positions[i]);
        assert_true(lesson_make(lesson, &position, player, &quick));
        for (int side = WHITE; side <= BLACK; side++) {
            const LessonSide *study = &lesson->sides[side];
            for (int k = 0; k < study->preparation_count; k++, found++) {
                const LessonPreparation *preparation = &study->preparations[k];
                Position next = position;
                ps_analysis after;
                if (position_turn(&next) != side)
                    position_pass(&next);
                assert_true(movegen_is_legal(&next, preparation->judged.move));
                position_play(&next, preparation->judged.move);
                structure_analyse(&next, &after);
                const ps_lever *lever = lesson_same_lever(&lesson->analysis, side, study->aim, &after);
                assert_non_null(lever);
                assert_int_equal(lever->square, study->aim->square);
                assert_int_equal(lever->tempi, preparation->tempi_after);
                assert_true(preparation->tempi_after < preparation->tempi_before);
                assert_true(preparation->judged.behind <= quick.sound_margin);
            }
        }
    }
    assert_true(found > 0);
    free(lesson);
    player_free(player);
}

/* The knight on f3 stands in the way of f2-f4-f5: moving it away takes a tempo off. */
static void moving_a_piece_out_of_the_way_prepares(void **state)
{
    (void)state;
    Player *player = new_player();
    Lesson *lesson = malloc(sizeof *lesson);
    Position position = position_from(KNIGHT_IN_THE_WAY);
    assert_true(lesson_make(lesson, &position, player,
                            &(LessonSettings){.effort = {.nodes = 3000}, .sound_margin = 1000}));
    const LessonSide *white = &lesson->sides[WHITE];
    assert_non_null(white->aim);
    assert_int_equal(white->aim->square, F5);
    assert_true(white->preparation_count > 0);
    bool by_knight = false;
    for (int i = 0; i < white->preparation_count; i++)
        by_knight |= move_from(white->preparations[i].judged.move) == F3;
    assert_true(by_knight);
    free(lesson);
    player_free(player);
}

static void a_side_that_cannot_be_to_move_is_not_searched(void **state)
{
    (void)state;
    Player *player = new_player();
    Lesson *lesson = malloc(sizeof *lesson);
    Position position = position_from("4k3/8/8/8/8/8/4q3/4K3 w - - 0 1");
    assert_true(lesson_make(lesson, &position, player, &quick));
    assert_true(lesson->sides[WHITE].searched);
    assert_false(lesson->sides[BLACK].searched);
    free(lesson);
    player_free(player);
}

/* -------------------------------------------------------------------------------------- misreadings */

static void every_position_has_its_misreading(void **state)
{
    (void)state;
    for (int i = 0; i < POSITION_COUNT; i++) {
        Position position = position_from(positions[i]);
        ps_analysis analysis;
        const char *texts[MISREADINGS_MAX];
        structure_analyse(&position, &analysis);
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            int count = misreadings_of(&analysis, side, texts);
            assert_in_range(count, 1, MISREADINGS_MAX);
            for (int k = 0; k < count; k++)
                assert_true(strlen(texts[k]) > 40);
        }
    }
}

static void a_misreading_fits_the_case(void **state)
{
    (void)state;
    static const struct {
        const char *fen, *part;
    } cases[] = {
        {KOPEC_3, "The lever is ready"},
        {KOPEC_11, "an enemy pawn bars the lever"},
        {KNIGHT_IN_THE_WAY, "the piece in front of the pawn"},
        {FEN_START, "no two rams stand side by side"},
        /* rams on d and e whose pawns stand side by side */
        {"4k3/8/8/3pp3/3PP3/8/8/4K3 w - - 0 1", "do not defend each other"},
        {"4k3/8/p7/Pp6/1P6/8/8/4K3 w - - 0 1", "at the edge of the board"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position position = position_from(cases[i].fen);
        ps_analysis analysis;
        const char *texts[MISREADINGS_MAX];
        structure_analyse(&position, &analysis);
        misreadings_of(&analysis, position_turn(&position), texts);
        if (strstr(texts[0], cases[i].part) == NULL)
            fail_msg("%s: \"%s\" without \"%s\"", cases[i].fen, texts[0], cases[i].part);
    }
}

/* ------------------------------------------------------------------------------------------ stories */

typedef struct Told {
    Player *player;
    Story story;
} Told;

/* Tells the game of these moves in SAN, separated by spaces. */
static void tell(Told *told, const char *fen, const char *game)
{
    Move moves[256];
    int count = 0;
    Position start = position_from(fen), position = start;
    char copy[2048];
    strcpy(copy, game);
    for (char *word = strtok(copy, " "); word != NULL; word = strtok(NULL, " ")) {
        assert_int_equal(san_parse(&position, word, &moves[count]), NOTATION_OK);
        position_play(&position, moves[count++]);
    }
    told->player = new_player();
    assert_true(story_make(&told->story, &start, moves, count, told->player, &quick));
}

static void forget(Told *told)
{
    story_free(&told->story);
    player_free(told->player);
}

static int count_events(const Story *story, StoryKind kind, Side side)
{
    int count = 0;
    for (int i = 0; i < story->event_count; i++)
        count += story->events[i].kind == kind && story->events[i].side == side;
    return count;
}

/* The one event of that kind about a lever on that square. */
static const StoryEvent *find_lever(const Story *story, StoryKind kind, Square lever)
{
    const StoryEvent *found = NULL;
    for (int i = 0; i < story->event_count; i++)
        if (story->events[i].kind == kind && story->events[i].lever.square == lever) {
            assert_null(found);
            found = &story->events[i];
        }
    return found;
}

static const StoryEvent *find(const Story *story, StoryKind kind, Side side)
{
    for (int i = 0; i < story->event_count; i++)
        if (story->events[i].kind == kind && story->events[i].side == side)
            return &story->events[i];
    return NULL;
}

/* The French Defence, Advance Variation (ECO C02): White closes the centre with 3.e5, Black answers with
 * the base lever at once (A. Nimzowitsch, "My System", 1925, on the pawn chain). */
static void the_story_of_the_advance_variation(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3 cxd4 cxd4");
    const StoryEvent *arose = find(&told.story, STORY_AROSE, WHITE);
    assert_non_null(arose);
    assert_int_equal(arose->ply, 5);
    assert_int_equal(arose->first_file, FILE_D);
    assert_int_equal(arose->last_file, FILE_E);
    story_event_text(&told.story, arose, text, sizeof text);
    assert_string_equal(text, "With 3.e5 the pawns on the d- and e-files are locked.");

    const StoryEvent *ready = find(&told.story, STORY_READY, BLACK);
    assert_non_null(ready);
    assert_int_equal(ready->ply, 5);
    assert_int_equal(ready->lever.square, C5);

    const StoryEvent *played = find(&told.story, STORY_PLAYED, BLACK);
    assert_non_null(played);
    assert_int_equal(played->ply, 6);
    assert_true(played->base);
    assert_int_equal(played->ready_moves, 0);
    story_event_text(&told.story, played, text, sizeof text);
    assert_non_null(strstr(text, "With 3...c5 Black plays the base lever as soon as it is ready."));
    assert_null(find(&told.story, STORY_RESOLVED, WHITE));
    forget(&told);
}

static void the_end_of_a_chain_is_told(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    /* 4.dxc5 takes White's base away. */
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 c5 dxc5 Bxc5");
    const StoryEvent *resolved = find(&told.story, STORY_RESOLVED, WHITE);
    assert_non_null(resolved);
    assert_int_equal(resolved->ply, 7);
    story_event_text(&told.story, resolved, text, sizeof text);
    assert_string_equal(text, "With 4.dxc5 the lock on the d- and e-files dissolves, after one move.");
    forget(&told);
}

/* 5...cxd4 6.cxd4 takes a pawn of the chain away and brings it back. */
static void a_recapture_is_not_the_end_of_a_chain(void **state)
{
    (void)state;
    Told told;
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3 cxd4 cxd4");
    int arose = 0;
    for (int i = 0; i < told.story.event_count; i++) {
        arose += told.story.events[i].kind == STORY_AROSE;
        assert_true(told.story.events[i].kind < STORY_KIND_COUNT);
    }
    assert_int_equal(arose, 1);
    assert_null(find(&told.story, STORY_RESOLVED, BLACK));
    forget(&told);
}

static const char *text_of(const Story *story, StoryKind kind, Side side)
{
    static char text[STORY_TEXT_SIZE];
    const StoryEvent *event = find(story, kind, side);
    assert_non_null(event);
    story_event_text(story, event, text, sizeof text);
    return text;
}

/* After 3.e5 Black's c5 is ready, and Black leaves it alone. Of a lever that waits one move nothing is said. */
static void a_lever_that_waits_is_told_with_its_moves(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 a6 Nf3 h6 Be2 Be7 O-O");
    assert_int_equal(count_events(&told.story, STORY_UNUSED, BLACK), 1);
    assert_int_equal(count_events(&told.story, STORY_UNUSED, WHITE), 0);
    assert_string_equal(
        text_of(&told.story, STORY_UNUSED, BLACK),
        "Black's lever c5 was ready for three moves, from move 3 to move 5, and was not played.");
    assert_string_equal(text_of(&told.story, STORY_LASTED, WHITE),
                        "The lock on the d- and e-files lasted to the end of the game, for three moves.");
    story_in_short(&told.story, text, sizeof text);
    assert_non_null(strstr(text, "The pawns on the d- and e-files were locked from 3.e5 to the end."));
    assert_non_null(strstr(text, "Black's c5 was ready for three moves and never played."));
    forget(&told);
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 a6 Nf3 c5");
    assert_int_equal(find(&told.story, STORY_PLAYED, BLACK)->ready_moves, 1);
    assert_non_null(strstr(text_of(&told.story, STORY_PLAYED, BLACK),
                           "With 4...c5 Black plays the base lever, which had been ready for one move."));
    assert_int_equal(count_events(&told.story, STORY_UNUSED, BLACK), 0);
    forget(&told);
}

/* 6...Nxd4 7.cxd4 takes a pawn of the chain away and brings it back: the lever goes on waiting. */
static void a_recapture_is_not_the_end_of_waiting(void **state)
{
    (void)state;
    Told told;
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 a6 c3 h6 a3 Nc6 h3 Nxd4 cxd4 b6");
    assert_int_equal(count_events(&told.story, STORY_RESOLVED, BLACK), 0);
    assert_int_equal(count_events(&told.story, STORY_UNUSED, BLACK), 1);
    assert_int_equal(find(&told.story, STORY_UNUSED, BLACK)->ply, 14);
    assert_int_equal(find(&told.story, STORY_UNUSED, BLACK)->ready_moves, 4);
    assert_non_null(
        strstr(text_of(&told.story, STORY_UNUSED, BLACK), "on four moves, between move 3 and move 7"));
    forget(&told);
}

/* Without nodes a story says all but what calculation thinks, and needs no player. */
static void a_story_without_a_search_tells_what_happened(void **state)
{
    (void)state;
    Told told;
    Story bare;
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 a6 Nf3 c5 dxc5 Bxc5");
    assert_true(story_make(&bare, &told.story.start, told.story.moves, told.story.ply_count, NULL,
                           &(LessonSettings){.sound_margin = 50}));
    assert_string_equal(text_of(&bare, STORY_PLAYED, BLACK),
                        "With 4...c5 Black plays the base lever, which had been ready for one move.");
    assert_int_equal(story_event_glyph(find(&bare, STORY_PLAYED, BLACK)), 0);
    assert_non_null(strstr(text_of(&told.story, STORY_PLAYED, BLACK), " By calculation "));
    assert_non_null(find(&bare, STORY_RESOLVED, WHITE));
    story_free(&bare);
    forget(&told);
}

/* Each judgement fits the sentence that it stands in. */
static void a_judgement_reads_as_a_sentence(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 a6 Nf3 c5");
    StoryEvent event = *find(&told.story, STORY_PLAYED, BLACK);
    assert_true(event.judged);
    event.push.only_good = false;
    event.push.judgement = JUDGED_COSTLY;
    story_event_text(&told.story, &event, text, sizeof text);
    assert_non_null(strstr(text, " By calculation it is costly ("));
    forget(&told);
}

/* The King's Indian, E99 (from memory): with 11...f4 the chain grows, and Black's lever is no longer f5, which has
 * been played, but g4. */
static void a_lever_that_moves_on_with_the_chain_is_told(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    tell(&told, FEN_START,
         "d4 Nf6 c4 g6 Nc3 Bg7 e4 d6 Nf3 O-O Be2 e5 O-O Nc6 d5 Ne7 Ne1 Nd7 Be3 f5 f3 f4 Bf2 g5 b4 Nf6 c5 g4");
    assert_int_equal(count_events(&told.story, STORY_AROSE, WHITE), 1);
    assert_int_equal(count_events(&told.story, STORY_AROSE, BLACK), 0);
    assert_int_equal(count_events(&told.story, STORY_MOVED_ON, WHITE), 0);
    assert_int_equal(count_events(&told.story, STORY_MOVED_ON, BLACK), 1);

    const StoryEvent *moved = find(&told.story, STORY_MOVED_ON, BLACK);
    assert_int_equal(moved->ply, 22);
    assert_int_equal(moved->old_square, F5);
    assert_int_equal(moved->lever.square, G4);
    story_event_text(&told.story, moved, text, sizeof text);
    assert_string_equal(
        text, "With 11...f4 the locked chain stands on the d-, e- and f-files, and Black's lever is "
              "no longer f5 but g4.");

    /* Both levers of Black's were ready, and played, each in its time. */
    assert_int_equal(find_lever(&told.story, STORY_READY, F5)->ply, 18);
    assert_int_equal(find_lever(&told.story, STORY_PLAYED, F5)->ply, 20);
    assert_int_equal(find_lever(&told.story, STORY_READY, G4)->ply, 26);
    const StoryEvent *played = find_lever(&told.story, STORY_PLAYED, G4);
    assert_int_equal(played->ply, 28);
    assert_int_equal(played->ready_moves, 0);
    assert_int_equal(played->first_file, FILE_D);
    assert_int_equal(played->last_file, FILE_F);
    forget(&told);
}

/* The pairs c-d and d-e slope against each other: two chains, which share the ram on d. */
static void two_ends_at_once_are_told_once(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    tell(&told, "3r2k1/8/3p4/2pPp3/2P1P3/5N2/8/6K1 w - - 0 1", "Nxe5 dxe5");
    const StoryEvent *first = find(&told.story, STORY_RESOLVED, WHITE);
    assert_non_null(first);
    story_event_text(&told.story, first, text, sizeof text);
    assert_string_equal(text, "With 1.Nxe5 the lock on the d- and e-files dissolves, after one move.");
    forget(&told);
    tell(&told, "3r2k1/8/3p4/2pPp3/2P1P3/8/8/3R2K1 w - - 0 1", "Kf1 Kf8");
    int lasted = 0;
    for (int i = 0; i < told.story.event_count; i++) {
        const StoryEvent *event = &told.story.events[i];
        if (event->kind != STORY_LASTED)
            continue;
        story_event_text(&told.story, event, text, sizeof text);
        assert_string_equal(
            text, lasted++ == 0
                      ? "The lock on the c- and d-files lasted to the end of the game, for one move."
                      : "So did the lock on the d- and e-files, for one move.");
    }
    assert_int_equal(lasted, 2);
    forget(&told);
}

/* White takes the last pawn of the chain away: it is shorter, and not at its end. */
static void a_chain_that_becomes_shorter_goes_on(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    tell(&told, "4k3/8/3p4/3Pp3/4Ppp1/5P2/8/4K3 w - - 0 1", "fxg4 Kd7");
    assert_null(find(&told.story, STORY_RESOLVED, WHITE));
    const StoryEvent *moved = find(&told.story, STORY_MOVED_ON, BLACK);
    assert_non_null(moved);
    story_event_text(&told.story, moved, text, sizeof text);
    assert_string_equal(text, "With 1.fxg4 the locked chain stands on the d- and e-files, and Black's lever "
                              "is no longer g4 but f5.");
    forget(&told);
}

/* Rams on b, c, e and f; then Black's d-pawn locks the file between them. What happens to the long chain is told
 * once: h5 makes g6 ready. */
static void two_chains_that_are_joined_go_on_as_one(void **state)
{
    (void)state;
    Told told;
    tell(&told, "4k3/3p1p2/4pP2/4P1P1/2pP3P/1pP5/1P6/4K3 b - - 0 1", "d5 Kd1 Kd7 h5 Ke8 Kc1");
    assert_int_equal(count_events(&told.story, STORY_AROSE, WHITE), 2);
    const StoryEvent *ready = find_lever(&told.story, STORY_READY, G6);
    assert_non_null(ready);
    assert_int_equal(ready->ply, 4);
    assert_int_equal(ready->first_file, FILE_B);
    assert_int_equal(ready->last_file, FILE_F);
    forget(&told);
}

/* An exchange that opens the file has done the lever's work: nothing is shut. */
static void a_lever_whose_file_is_opened_is_not_shut(void **state)
{
    (void)state;
    Told told;
    tell(&told, "4k3/8/3p4/1p1Pp3/2P1P3/8/8/4K3 w - - 0 1", "cxb5 Kd7");
    assert_null(find(&told.story, STORY_SHUT, WHITE));
    forget(&told);
    /* With a black c-pawn still there, it is. */
    tell(&told, "4k3/2p5/3p4/1p1Pp3/2P1P3/8/8/4K3 w - - 0 1", "cxb5 Kd7");
    const StoryEvent *shut = find(&told.story, STORY_SHUT, WHITE);
    assert_non_null(shut);
    assert_int_equal(shut->lever.square, C5);
    forget(&told);
}

/* A null move is no choice, and no legal move. */
static void null_moves_are_let_pass(void **state)
{
    (void)state;
    const Position start = position_from(FEN_START);
    const Move moves[] = {move_make(E2, E4, PLAIN), NO_MOVE, move_make(D2, D4, PLAIN)};
    Player *player = new_player();
    Story story;
    Position end;
    char text[PGN_NUMBERED_SIZE];
    assert_true(story_make(&story, &start, moves, 3, player, &quick));
    story_position(&story, 3, &end);
    assert_int_equal(position_turn(&end), BLACK);
    story_move_text(&story, 2, text);
    assert_string_equal(text, "1...--");
    story_free(&story);
    player_free(player);
}

static void a_lever_that_is_shut_is_told(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    /* Black's pawn on f5 bars White's f4-f5. */
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 Be7 a3 f5 f4");
    const StoryEvent *shut = find(&told.story, STORY_SHUT, WHITE);
    assert_non_null(shut);
    assert_int_equal(shut->ply, 8);
    story_event_text(&told.story, shut, text, sizeof text);
    assert_string_equal(
        text, "After 4...f5 White's lever f5 cannot be played any more: an enemy pawn bars its way.");
    forget(&told);
}

/* White can win the queen: the lever c5 gives check and opens the rank of the rook. White moves the king
 * instead. */
static void a_lever_that_wins_is_missed(void **state)
{
    (void)state;
    Told told;
    char text[STORY_TEXT_SIZE];
    tell(&told, "8/8/1k1p4/3Pp3/R1PqP3/3N4/8/7K w - - 0 1", "Kh2 Qxd3");
    const StoryEvent *missed = find(&told.story, STORY_MISSED, WHITE);
    assert_non_null(missed);
    assert_int_equal(missed->ply, 0);
    assert_int_equal(missed->lever.square, C5);
    assert_true(story_event_glyph(missed) == 2 || story_event_glyph(missed) == 6);
    story_event_text(&told.story, missed, text, sizeof text);
    assert_non_null(strstr(text, "1.c5"));
    assert_non_null(strstr(text, "Here White missed the base lever 1.c5"));
    assert_non_null(strstr(text, "The game went on with 1.Kh2"));
    char cost[64], in_short[STORY_TEXT_SIZE];
    assert_int_equal(missed->cost, missed->push.score - missed->chosen.score);
    snprintf(cost, sizeof cost, "which cost %d.%02d pawns.", missed->cost / 100, missed->cost % 100);
    assert_non_null(strstr(text, cost));
    story_in_short(&told.story, in_short, sizeof in_short);
    assert_non_null(strstr(in_short, "White missed 1.c5+, which cost"));
    forget(&told);
}

static void a_game_without_chains_has_no_events(void **state)
{
    (void)state;
    Told told;
    tell(&told, FEN_START, "e4 e5 Nf3 Nc6 Bb5 a6");
    assert_int_equal(told.story.event_count, 0);
    forget(&told);
}

/* ------------------------------------------------------------------------------------------ the sheet */

static void add_fen(Handout *handout, const char *line)
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE];
    assert_true(epd_parse(line, &record, error));
    assert_true(handout_add_position(handout, &record));
    epd_free(&record);
}

static void study(Handout *handout)
{
    Progress progress;
    progress_start(&progress, "positions", 0, true);
    assert_true(handout_study(handout, &progress));
}

static void make_sheet(Handout *handout, bool pupils)
{
    static char white[] = "White", black[] = "Black", marwen[] = "Marwen, Edda", sollis[] = "Sollis \"B\"";
    *handout =
        (Handout){.title = "For <Thursday>", .settings = quick, .pupils = pupils, .player = new_player()};
    add_fen(handout, KOPEC_3_FIELDS " bm f5; id \"A & B\"; c0 \"well known\";");
    add_fen(handout, "4k3/8/8/3pp3/3PP3/8/8/4K3 w - -");
    Told told;
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 c5 c3 Nc6");
    const HandoutTag tags[] = {{white, marwen}, {black, sollis}};
    const HandoutGame game = {.start = told.story.start,
                              .ply_count = told.story.ply_count,
                              .moves = told.story.moves,
                              .result = "1-0",
                              .tag_count = 2,
                              .tags = tags};
    assert_true(handout_add_game(handout, &game));
    forget(&told);
    /* All is added before the first search. */
    assert_false(handout->items[0].lesson->sides[WHITE].searched);
    assert_int_equal(handout->items[2].story.event_count, 0);
    study(handout);
    assert_true(handout->items[0].lesson->sides[WHITE].searched);
    assert_true(handout->items[2].story.event_count > 0);
}

static void free_sheet(Handout *handout)
{
    handout_free(handout);
    player_free(handout->player);
}

static const char *write_sheet(Rendered *r, bool pupils)
{
    Handout handout;
    make_sheet(&handout, pupils);
    handout_write_page(rendered_open(r), &handout);
    free_sheet(&handout);
    return rendered_close(r);
}

static void a_sheet_is_well_formed(void **state)
{
    (void)state;
    Rendered r;
    const char *text = write_sheet(&r, false);
    assert_well_formed(text);
    assert_non_null(strstr(text, "For &lt;Thursday&gt;"));
    assert_non_null(strstr(text, "1. Black to move – A &amp; B"));
    assert_non_null(strstr(text, "Best according to the source of the position: f5."));
    /* The answer first, in one line; below it everything else. */
    const char *answer =
        strstr(text, "<p class=\"lead\">Black: break with f5. White: c5 is barred; clear the way for "
                     "f4: move the knight on f3. Calculation plays ");
    assert_non_null(answer);
    assert_true(answer < strstr(text, "Two chains are locked"));
    /* The help comes last, one click away. */
    assert_true(strstr(text, "<a href=\"#marks\">How to read this sheet</a>") < answer);
    assert_true(strstr(text, "<h2 id=\"marks\">How to read this sheet") > answer);
    assert_non_null(strstr(text, "The source of the position says: well known."));
    assert_non_null(strstr(text, "1.e4 e6 2.d4 d5 3.e5"));
    assert_non_null(strstr(text, "Not for use during a game."));
    free(r.text);
}

static void tasks_give_no_answer_away(void **state)
{
    (void)state;
    Rendered r;
    const char *text = write_sheet(&r, true);
    assert_well_formed(text);
    char *answers = strstr(r.text, "<section class=\"fresh\">");
    assert_non_null(answers);
    assert_int_equal(count_of(answers, "class=\"board\""), count_of(text, "class=\"board\"") - 3);
    char *tasks = strstr(r.text, "<main>");
    *answers = '\0';
    static const char *const given_away[] = {"Base lever",    "class=\"lever\"", "class=\"chain\"",
                                             "class=\"ram\"", "well known",      "misread",
                                             "Ram ",          "locked with"};
    tasks = strstr(tasks, "</defs>");
    assert_non_null(tasks);
    for (size_t i = 0; i < sizeof given_away / sizeof *given_away; i++)
        assert_null(strstr(tasks, given_away[i]));
    free(r.text);
}

/* The tags of the question with that number, from its section to the end of the page. */
static const char *question(const char *text, int number)
{
    for (int i = 0; text != NULL && i < number; i++)
        text = strstr(i > 0 ? text + 1 : text, "<section class=\"quiz\"");
    assert_non_null(text);
    return text;
}

/* A question's right answers stand in its section: the wing, the lever, and the pawn if it can be played. Number 3 of
 * Bratko and Kopec: Black has f5, and White's c5 is barred by a pawn. After 1.e4 e6 2.d4 d5 3.e5 Black has c5. */
static void a_quiz_asks_for_wing_and_lever(void **state)
{
    (void)state;
    Rendered r;
    Told told;
    Handout handout = {.title = "Quiz", .settings = quick, .quiz = true, .player = new_player()};
    tell(&told, FEN_START, "e4 e6 d4 d5 e5 c5 c3 Nc6");
    const HandoutGame game = {.start = told.story.start,
                              .ply_count = told.story.ply_count,
                              .moves = told.story.moves,
                              .result = "*"};
    const HandoutGame open_game = {
        .start = told.story.start, .ply_count = 2, .moves = game.moves, .result = "*"};
    assert_true(handout_add_game(&handout, &open_game));
    study(&handout);
    assert_false(handout_has_questions(&handout));
    add_fen(&handout, KOPEC_3_FIELDS " id \"A & B\";");
    add_fen(&handout, "2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R w - -");
    add_fen(&handout, "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -");
    assert_true(handout_add_game(&handout, &game));
    forget(&told);
    study(&handout);
    assert_true(handout_has_questions(&handout));
    handout_write_page(rendered_open(&r), &handout);
    free_sheet(&handout);
    const char *text = rendered_close(&r);
    assert_well_formed(text);
    assert_int_equal(count_of(text, "<section class=\"quiz\""), 4);
    static const char *const expected[] = {
        "data-side=\"Black\" data-wing=\"kingside\" data-flip=\"no\" data-lever=\"f5\" data-pawn=\"f6\" "
        "data-men=\"",
        "data-side=\"White\" data-wing=\"queenside\" data-flip=\"no\" data-lever=\"c5\" data-men=\"",
        "data-side=\"White\" data-wing=\"nowhere\" data-flip=\"no\" data-men=\"RNBQKBNRPPPPPPPP........",
        "data-side=\"Black\" data-wing=\"queenside\" data-flip=\"no\" data-lever=\"c5\" data-pawn=\"c7\" "
        "data-men=\""};
    static const char *const reasons[] = {
        "The lever f5, against e4, is one move away, and supported.",
        "The lever c5, against d6, cannot be played, for an enemy pawn bars its way.",
        "No rams stand side by side", "The lever c5, against d4, is one move away, and supported."};
    for (int i = 0; i < 4; i++) {
        const char *at = question(text, i + 1);
        assert_memory_equal(at + strlen("<section class=\"quiz\" "), expected[i], strlen(expected[i]));
        assert_non_null(strstr(at, reasons[i]));
        if (i < 3)
            assert_true(strstr(at, reasons[i]) < question(text, i + 2));
    }
    assert_non_null(strstr(text, "1. Black to move – A &amp; B"));
    assert_non_null(strstr(text, "4. Black to move – White – Black, after 3.e5"));
    assert_int_equal(count_of(text, "<script>"), 1);
    static const char *const outside[] = {"http:", "https:", "@import", "src=", "<link", "fetch("};
    for (size_t i = 0; i < sizeof outside / sizeof *outside; i++)
        assert_null(strstr(text, outside[i]));
    free(r.text);
}

static int hex(char digit)
{
    const char *digits = "0123456789ABCDEF", *found = strchr(digits, digit);
    assert_true(digit != '\0' && found != NULL);
    return (int)(found - digits);
}

/* The text of a data URI, up to the quote that ends it: RFC 3986, section 2.1. To be freed. */
static char *percent_decoded(const char *at)
{
    char *text = malloc(strlen(at) + 1), *out = text;
    assert_non_null(text);
    for (; *at != '"'; at++) {
        assert_true(*at != '\0' && *at != ' ' && *at != '\n');
        if (*at == '%') {
            *out++ = (char)(16 * hex(at[1]) + hex(at[2]));
            at += 2;
        } else {
            *out++ = *at;
        }
    }
    *out = '\0';
    return text;
}

/* What a teacher takes from a page: the FEN, the PGN, the engine's line, what the words mean, the arrows. */
static void there_is_something_to_take_away(void **state)
{
    (void)state;
    static const char link[] = "download=\"lesson.pgn\" href=\"data:application/x-chess-pgn,";
    Handout handout;
    Rendered r, pgn;
    make_sheet(&handout, false);
    handout_write_page(rendered_open(&r), &handout);
    handout_write_pgn(rendered_open(&pgn), &handout);
    const LessonSide *black = &handout.items[0].lesson->sides[BLACK];
    char line[64];
    snprintf(line, sizeof line, "The engine&#39;s line: 1...%s", black->best.san);
    free_sheet(&handout);
    const char *text = rendered_close(&r), *games = rendered_close(&pgn);
    assert_well_formed(text);
    assert_non_null(strstr(text, "<code>" KOPEC_3_FIELDS " 0 1</code>"));
    assert_non_null(strstr(text, line));
    const char *at = strstr(text, link);
    assert_non_null(at);
    char *saved = percent_decoded(at + sizeof link - 1);
    assert_string_equal(saved, games);
    free(saved);
    /* The table of comparison.h. */
    assert_non_null(strstr(text, "&quot;as good as anything&quot; up to 0.15, &quot;sound&quot; up to 0.50, "
                                 "&quot;costly&quot; up to 1.50, &quot;bad&quot; beyond that"));
    assert_non_null(strstr(text, "every other is 0.51 or more behind"));
    assert_non_null(strstr(text, "Broken arrow: the move that was played"));
    assert_non_null(strstr(text, "best: Arrow from "));
    /* Of the side that is not to move nothing stands outside of its box. */
    const char *aside = strstr(text, "<div class=\"aside\">");
    assert_non_null(aside);
    assert_true(strstr(text, "It is not White&#39;s turn") > aside);
    free(r.text);
    free(pgn.text);
}

static void the_move_of_the_game_is_shown(void **state)
{
    (void)state;
    for (int same = 0; same <= 1; same++) {
        Handout handout = {.title = "x", .settings = quick, .player = new_player()};
        Rendered r;
        add_fen(&handout, "4k3/8/8/8/8/8/4q3/4K3 w - - sm Kxe2;"); /* the only move */
        if (!same)
            add_fen(&handout, KOPEC_3_FIELDS " sm a5;");
        study(&handout);
        handout_write_page(rendered_open(&r), &handout);
        free_sheet(&handout);
        const char *text = rendered_close(&r);
        assert_non_null(strstr(text, "Calculation plays Kxe2, as the game did."));
        assert_int_equal(count_of(text, " The game went on with a5."), !same);
        assert_int_equal(count_of(text, "game: Arrow from a6 to a5."), !same);
        free(r.text);
    }
}

/* So many tasks and short answers a sheet; games have long answers. */
static void paper_is_saved(void **state)
{
    (void)state;
    for (int per_page = 1; per_page <= 2; per_page++) {
        Handout handout;
        Rendered r;
        char leaf[64];
        make_sheet(&handout, true);
        handout.per_page = per_page;
        handout.brief = handout.hide_names = true;
        handout_write_page(rendered_open(&r), &handout);
        free_sheet(&handout);
        const char *text = rendered_close(&r);
        assert_well_formed(text);
        snprintf(leaf, sizeof leaf, "<div class=\"leaf leaf-%d\">", per_page);
        /* Three tasks, and two positions among the answers. */
        assert_int_equal(count_of(text, leaf), per_page == 1 ? 5 : 3);
        assert_null(strstr(text, "The levers, by count"));
        assert_null(strstr(text, "are locked, White's"));
        assert_true(strstr(text, "<h2 id=\"marks\">") > strstr(text, "id=\"position-1\""));
        /* The names stand with the answers only. */
        assert_int_equal(count_of(text, "A &amp; B"), 1);
        assert_true(strstr(text, "A &amp; B") > strstr(text, "class=\"fresh\""));
        assert_int_equal(count_of(text, "Marwen, Edda"), 1);
        free(r.text);
    }
    assert_refused("handout '4k3/8/8/3pp3/3PP3/8/8/4K3 w - -' --per-page 4 --html /tmp/x.html", "", 2,
                   "expected --pupils or --short as well");
    assert_refused("handout '4k3/8/8/3pp3/3PP3/8/8/4K3 w - -' --pupils --per-page 3 --html /tmp/x.html", "",
                   2, "any, 1, 2, 4 or 6");
}

static void the_same_sheet_twice(void **state)
{
    (void)state;
    Rendered one, other;
    write_sheet(&one, false);
    write_sheet(&other, false);
    assert_string_equal(one.text, other.text);
    free(one.text);
    free(other.text);
}

/* ------------------------------------------------------------------------------------------ as PGN */

typedef struct ReadBack {
    int games, broken, comments, plies, glyphs;
    Move first;
    char white[64], black[64];
} ReadBack;

static bool on_begin(void *context, const PgnGame *game)
{
    ReadBack *read = context;
    PgnText value;
    if (pgn_tag(game, "Black", &value))
        pgn_text_copy(value, read->black, sizeof read->black);
    return true;
}

static void on_move(void *context, const PgnGame *game, Move move)
{
    ReadBack *read = context;
    if (game->number == 1 && game->plies == 1)
        read->first = move;
    read->plies++;
}

static void on_glyph(void *context, const PgnGame *game, int glyph)
{
    (void)game;
    ((ReadBack *)context)->glyphs += glyph > 0;
}

static void on_comment(void *context, const PgnGame *game, PgnText text)
{
    (void)game;
    ((ReadBack *)context)->comments += text.length > 20;
}

static void on_end(void *context, const PgnGame *game)
{
    ReadBack *read = context;
    assert_int_equal(game->result, game->number == 3 ? PGN_WHITE_WINS : PGN_NO_RESULT);
    read->games++;
}

static void on_broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    (void)game;
    print_error("%s\n", fault->text);
    ((ReadBack *)context)->broken++;
}

/* The reader of the project, which is compared with others, must read what the sheet writes. Lines: PGN
 * standard, 1994, section 4.3: below 80 characters. */
static void the_pgn_can_be_read_back(void **state)
{
    (void)state;
    Handout handout;
    Rendered r;
    ReadBack read = {0};
    make_sheet(&handout, false);
    handout_write_pgn(rendered_open(&r), &handout);
    const char *text = rendered_close(&r);
    for (const char *line = text; *line != '\0'; line += strcspn(line, "\n") + 1)
        if (*line != '[')
            assert_true(strcspn(line, "\n") < 80);
    const PgnBlock block = {.text = r.text, .length = r.size, .line = 1};
    const PgnVisitor visitor = {.context = &read,
                                .begin = on_begin,
                                .move = on_move,
                                .glyph = on_glyph,
                                .comment = on_comment,
                                .end = on_end,
                                .broken = on_broken};
    pgn_read_block(&block, 1, &visitor);
    assert_int_equal(read.broken, 0);
    assert_int_equal(read.games, 3);
    assert_int_equal(read.first, handout.items[0].lesson->sides[BLACK].best.move);
    assert_true(read.comments >= 6);
    assert_string_equal(read.black, "Sollis \"B\"");
    assert_non_null(strstr(text, "[FEN \"" KOPEC_3_FIELDS " 0 1\"]"));
    assert_non_null(strstr(text, "(1... "));
    assert_non_null(strstr(text, "With 3...c5"));
    free(r.text);
    free_sheet(&handout);
}

static void a_comment_keeps_its_brace_to_itself(void **state)
{
    (void)state;
    Rendered r;
    PgnWriter writer = {.out = rendered_open(&r)};
    const Position start = position_from(FEN_START);
    pgn_begin_moves(&writer);
    pgn_write_move(&writer, &start, move_make(E2, E4, PLAIN));
    pgn_write_glyph(&writer, 1);
    pgn_write_comment(&writer, "  a } b\n c ");
    pgn_begin_variation(&writer);
    pgn_write_move(&writer, &start, move_make(D2, D4, PLAIN));
    pgn_write_comment(&writer, "");
    pgn_end_variation(&writer);
    pgn_end_game(&writer, "*");
    assert_string_equal(rendered_close(&r), "\n1. e4 $1 {a ) b c} (1. d4) *\n\n");
    free(r.text);
}

/* ------------------------------------------------------------------------------------------ the command */

static void write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

static void the_command_writes_a_sheet(void **state)
{
    (void)state;
    char folder[] = "/tmp/pawnvane-handout-XXXXXX", arguments[256], page[64];
    assert_non_null(mkdtemp(folder));
    snprintf(page, sizeof page, "%s/sheet.html", folder);
    snprintf(arguments, sizeof arguments, "handout '%s' --html %s --nodes 1000 --title 'My class'", KOPEC_3,
             page);
    HarnessRun run = harness_run(arguments, "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.err, "");
    harness_free(&run);
    char *text = harness_read_file(page);
    assert_well_formed(text);
    assert_non_null(strstr(text, "<h1>My class</h1>"));
    free(text);
    unlink(page);
    assert_int_equal(rmdir(folder), 0);
}

typedef struct BadFile {
    const char *name, *text, *said;
    bool some_good;
} BadFile;

static void what_is_bad_costs_only_itself(void **state)
{
    static const BadFile files[] = {
        {"bad.epd", "4k3/8/8/3pp3/3PP3/8/8/8 w - -\nnonsense\n" KOPEC_3_FIELDS "\n", "bad.epd:2: ", true},
        {"best.epd", "4k3/8/8/3pp3/3PP3/8/8/4K3 w - -\n4k3/8/8/8/8/8/8/4KN2 w - - bm Sg3;\n",
         "best.epd:2: bm has \"Sg3\": not the text of a move; expected a legal move in SAN (S is the German",
         true},
        {"cut.pgn", "[Event \"a\"]\n\n1. e4 *\n\n[Event \"b\"]\n\n1. e4 e5",
         "cut.pgn:7: game 2, ply 3: the file ends before the result", true},
        {"all.epd", "nonsense\n", "all.epd:1: ", false},
    };
    (void)state;
    char folder[] = "/tmp/pawnvane-handout-XXXXXX", arguments[256], page[64], bad[64];
    assert_non_null(mkdtemp(folder));
    snprintf(page, sizeof page, "%s/sheet.html", folder);
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        write_file(page, "precious");
        snprintf(bad, sizeof bad, "%s/%s", folder, files[i].name);
        write_file(bad, files[i].text);
        snprintf(arguments, sizeof arguments, "handout %s --html %s --nodes 1000", bad, page);
        HarnessRun run = harness_run(arguments, "");
        assert_int_equal(run.status, 1);
        if (strstr(run.err, files[i].said) == NULL)
            fail_msg("\"%s\" is not in \"%s\"", files[i].said, run.err);
        harness_free(&run);
        char *text = harness_read_file(page);
        if (files[i].some_good)
            assert_non_null(strstr(text, ">1. "));
        else
            assert_string_equal(text, "precious");
        free(text);
        unlink(bad);
    }
    unlink(page);
    assert_int_equal(rmdir(folder), 0);
}

/* The position after a move of a game, in place of the game. */
/* What books print: the structure is explained, nothing is searched, and there is no PGN of it. */
static void a_skeleton_is_explained(void **state)
{
    (void)state;
    char folder[] = "/tmp/pawnvane-handout-XXXXXX", arguments[256], page[64], pgn[64];
    assert_non_null(mkdtemp(folder));
    snprintf(page, sizeof page, "%s/sheet.html", folder);
    snprintf(pgn, sizeof pgn, "%s/sheet.pgn", folder);
    for (int quiz = 0; quiz < 2; quiz++) {
        snprintf(arguments, sizeof arguments,
                 "handout '8/pp3ppp/4p3/2ppP3/3P4/2P5/PP3PPP/8 b' --quiet --html %s --pgn %s %s", page, pgn,
                 quiz ? "--quiz" : "");
        HarnessRun run = harness_run(arguments, "");
        assert_string_equal(run.err, "");
        assert_int_equal(run.status, 0);
        harness_free(&run);
        char *text = harness_read_file(page), *games = harness_read_file(pgn);
        assert_well_formed(text);
        assert_non_null(strstr(text, "<p class=\"lead\">Black: c5 is played."));
        assert_non_null(strstr(text, "A skeleton, the pawns alone: nothing is calculated."));
        assert_null(strstr(text, "Calculation plays"));
        assert_null(strstr(text, "download="));
        assert_string_equal(games, "");
        free(text);
        free(games);
    }
    unlink(page);
    unlink(pgn);
    assert_int_equal(rmdir(folder), 0);
}

static void a_move_of_a_game_is_a_position(void **state)
{
    (void)state;
    char folder[] = "/tmp/pawnvane-handout-XXXXXX", arguments[256], page[64];
    assert_non_null(mkdtemp(folder));
    snprintf(page, sizeof page, "%s/sheet.html", folder);
    snprintf(arguments, sizeof arguments,
             "handout bench/games/club-match.pgn --game 2 --move 3w --html %s --nodes 1000", page);
    HarnessRun run = harness_run(arguments, "");
    assert_string_equal(run.err, "");
    assert_int_equal(run.status, 0);
    harness_free(&run);
    char *text = harness_read_file(page);
    assert_non_null(strstr(text, "1. Black to move – Sollis, Brek – Marwen, Edda"));
    assert_non_null(strstr(text, ", after 3."));
    /* 3...c5 was played next. */
    assert_true(strstr(text, "Calculation plays c5, as the game did.") != NULL ||
                strstr(text, "The game went on with c5.") != NULL);
    free(text);
    unlink(page);
    assert_int_equal(rmdir(folder), 0);
    assert_refused("handout bench/games/club-match.pgn --move 12 --html /tmp/x.html", "", 2,
                   "--move is \"12\"; expected the number of a move and w or b");
}

static void misuse_is_refused(void **state)
{
    (void)state;
    assert_refused("handout --html /tmp/x.html", "", 2, "there is no input");
    assert_refused("handout nonsense --html /tmp/x.html", "", 1, "neither an .epd file");
    assert_refused("handout '4k3/8/8/3pp3/3PP3/8/8/4K3 w - -'", "", 2, "--html");
    assert_refused("handout '4k3/8/8/3pp3/3PP3/8/8/4K3 w - -' --quiz --pupils --html /tmp/x.html", "", 2,
                   "--quiz is one page for the screen");
    assert_refused("handout '4k3/8/8/3pp3/3PP3/8/8/4K3 w - -' --nodes 1000 --html /nowhere/x.html", "", 1,
                   "/nowhere/x.html: cannot be written");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_move_is_judged_by_what_it_is_behind),
        cmocka_unit_test(moves_are_compared_at_one_depth),
        cmocka_unit_test(a_difference_is_as_doubtful_as_it_has_changed),
        cmocka_unit_test(the_only_good_move_is_told_from_others),
        cmocka_unit_test(nothing_in_a_table_beats_its_best_move),
        cmocka_unit_test(the_table_of_the_other_side_says_so),
        cmocka_unit_test(guards_and_attackers_are_counted_once),
        cmocka_unit_test(every_legal_break_is_judged),
        cmocka_unit_test(the_published_lever_is_among_the_breaks),
        cmocka_unit_test(preparing_moves_lower_the_tempi_and_are_sound),
        cmocka_unit_test(moving_a_piece_out_of_the_way_prepares),
        cmocka_unit_test(a_side_that_cannot_be_to_move_is_not_searched),
        cmocka_unit_test(every_position_has_its_misreading),
        cmocka_unit_test(a_misreading_fits_the_case),
        cmocka_unit_test(the_story_of_the_advance_variation),
        cmocka_unit_test(the_end_of_a_chain_is_told),
        cmocka_unit_test(a_recapture_is_not_the_end_of_a_chain),
        cmocka_unit_test(a_lever_that_waits_is_told_with_its_moves),
        cmocka_unit_test(a_recapture_is_not_the_end_of_waiting),
        cmocka_unit_test(a_story_without_a_search_tells_what_happened),
        cmocka_unit_test(a_judgement_reads_as_a_sentence),
        cmocka_unit_test(a_lever_that_moves_on_with_the_chain_is_told),
        cmocka_unit_test(two_ends_at_once_are_told_once),
        cmocka_unit_test(a_chain_that_becomes_shorter_goes_on),
        cmocka_unit_test(two_chains_that_are_joined_go_on_as_one),
        cmocka_unit_test(a_lever_whose_file_is_opened_is_not_shut),
        cmocka_unit_test(null_moves_are_let_pass),
        cmocka_unit_test(a_lever_that_is_shut_is_told),
        cmocka_unit_test(a_lever_that_wins_is_missed),
        cmocka_unit_test(a_game_without_chains_has_no_events),
        cmocka_unit_test(a_sheet_is_well_formed),
        cmocka_unit_test(tasks_give_no_answer_away),
        cmocka_unit_test(a_quiz_asks_for_wing_and_lever),
        cmocka_unit_test(there_is_something_to_take_away),
        cmocka_unit_test(the_move_of_the_game_is_shown),
        cmocka_unit_test(paper_is_saved),
        cmocka_unit_test(the_same_sheet_twice),
        cmocka_unit_test(the_pgn_can_be_read_back),
        cmocka_unit_test(a_comment_keeps_its_brace_to_itself),
        cmocka_unit_test(the_command_writes_a_sheet),
        cmocka_unit_test(what_is_bad_costs_only_itself),
        cmocka_unit_test(a_skeleton_is_explained),
        cmocka_unit_test(a_move_of_a_game_is_a_position),
        cmocka_unit_test(misuse_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
