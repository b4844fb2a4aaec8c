/* Styles and strengths against the definitions of the structure, and against the player that they stand on. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench/play/opening.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/notation.h"
#include "engine/spar/plan_notes.h"
#include "tests/engine/rules/playout.h"

enum { NODES = 3000, OPENINGS = 12 };

/* White's pairs d4 e5 point to f5, Black's e6 d5 to c5, which is played: the definitions, sections 2 and 3. */
static const char french[] = "r1bq1rk1/pp1nbppp/2n1p3/2ppP3/3P1P2/2N1BN2/PPPQ2PP/R3KB1R w KQ - 0 9";

/* The advance variation as any opening manual gives it (from memory), White to move. */
static const char advance[] = "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR w KQkq - 0 4";

static int start_player(void **state)
{
    *state = player_new(1);
    return *state ? 0 : -1;
}

static int stop_player(void **state)
{
    player_free(*state);
    return 0;
}

static Move move_of(const Position *p, const char *text)
{
    Move move = NO_MOVE;
    assert_int_equal(san_parse(p, text, &move), NOTATION_OK);
    return move;
}

static void spar(Player *player, const Position *p, Sparring sparring, uint64_t nodes, SearchResult *result,
                 SparChoice *choice)
{
    Game game;
    assert_true(game_start(&game, p));
    player_forget(player);
    spar_think(player, &sparring, &game, &(SearchLimits){.nodes = nodes}, NULL, result, choice);
    game_free(&game);
}

static void effects_of(const char *fen, const char *move, int effects[PLAN_EFFECT_COUNT])
{
    Position p = playout_read(fen, false);
    ps_analysis analysis;
    structure_analyse(&p, &analysis);
    plan_effects(&p, &analysis, move_of(&p, move), effects);
}

static void test_effects(void **state)
{
    (void)state;
    int effects[PLAN_EFFECT_COUNT];
    effects_of(french, "f5", effects);
    assert_int_equal(effects[EFFECT_PLAYS], 1);
    assert_int_equal(effects[EFFECT_GIVES_UP], 0);
    effects_of(french, "dxc5", effects);
    assert_int_equal(effects[EFFECT_PLAYS], 0);
    assert_int_equal(effects[EFFECT_GIVES_UP], 1);
    assert_int_equal(effects[EFFECT_RELEASES], 1);
    /* The definitions, section 3: attackers that outnumber the supporters of f5 are tempi. Black's e6 attacks it, White
     * has nobody there until Bd3. */
    effects_of(french, "Bd3", effects);
    assert_int_equal(effects[EFFECT_NEARER], 1);
    effects_of(french, "g4", effects);
    assert_int_equal(effects[EFFECT_NEARER], 1);
    effects_of(french, "a3", effects);
    for (int i = 0; i < PLAN_EFFECT_COUNT; i++)
        assert_int_equal(effects[i], 0);
    /* The knight on f3 stands in the way of f4; it is the head lever in number 3 of the Bratko-Kopec test (D. Kopec,
     * I. Bratko, in Advances in Computer Chess 3, 1982), and f5 Black's base lever and the published move. */
    effects_of("2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - -", "f5", effects);
    assert_int_equal(effects[EFFECT_PLAYS], 1);
    effects_of("2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - -", "Ng5", effects);
    assert_int_equal(effects[EFFECT_PLAYS], 0);
}

/* The advance variation as any opening manual gives it (from memory): White's f5 needs preparation, Black's break is
 * c5. In all sides of the board. */
static void test_mirrored(void **state)
{
    (void)state;
    Position p = playout_read(french, false), mirror = playout_mirror(&p);
    ps_analysis analysis, mirrored;
    MoveList moves;
    structure_analyse(&p, &analysis);
    structure_analyse(&mirror, &mirrored);
    movegen_all(&p, &moves);
    for (int i = 0; i < moves.count; i++) {
        int effects[PLAN_EFFECT_COUNT], reflected[PLAN_EFFECT_COUNT];
        Move move = moves.moves[i];
        plan_effects(&p, &analysis, move, effects);
        plan_effects(&mirror, &mirrored,
                     move_make(flip_ranks(move_from(move)), flip_ranks(move_to(move)), move_kind(move)),
                     reflected);
        assert_memory_equal(effects, reflected, sizeof effects);
    }
}

/* Node for node: the very same search as without a partner. */
static void test_objective_is_the_player(void **state)
{
    Position p = playout_read(french, false);
    Game game;
    SearchResult plain, result;
    SparChoice choice;
    assert_true(game_start(&game, &p));
    player_forget(*state);
    player_think(*state, &game, &(SearchLimits){.depth = 7}, NULL, &plain);
    player_forget(*state);
    spar_think(*state, &(Sparring){.style = SPAR_OBJECTIVE, .margin = 500}, &game,
               &(SearchLimits){.depth = 7}, NULL, &result, &choice);
    assert_int_equal(plain.nodes, result.nodes);
    assert_int_equal(plain.best, result.best);
    assert_int_equal(plain.line.score, result.line.score);
    /* Where there is no plan, no style has anything to prefer. */
    Position start = playout_read(FEN_START, false);
    game_free(&game);
    assert_true(game_start(&game, &start));
    for (SparStyle style = SPAR_OBJECTIVE; style < SPAR_STYLE_COUNT; style++) {
        player_forget(*state);
        spar_think(*state, &(Sparring){.style = style, .margin = 500}, &game, &(SearchLimits){.depth = 6},
                   NULL, &result, &choice);
        assert_int_equal(choice.reason, NO_PLAN_EFFECT);
        if (style == SPAR_OBJECTIVE)
            plain = result;
        assert_int_equal(plain.nodes, result.nodes);
        assert_int_equal(plain.best, result.best);
    }
    game_free(&game);
}

/* A search of the move alone may see more or less than one in the company of all others; on average the move keeps
 * within the margin. */
static void test_margins(void **state)
{
    enum { MARGIN = 40, DEPTH = 5 };
    OpeningSet set = {0};
    int preferred = 0, behind = 0, plays[2] = {0};
    assert_true(openings_read(&set, "bench/openings/strata.epd"));
    for (size_t i = 0; i < OPENINGS; i++) {
        const Position *p = &set.items[i].position;
        for (SparStyle style = SPAR_FAITHFUL; style < SPAR_STYLE_COUNT; style++) {
            Game game;
            SearchResult result, alone, best;
            SparChoice choice;
            assert_true(game_start(&game, p));
            player_forget(*state);
            spar_think(*state, &(Sparring){.style = style, .margin = MARGIN}, &game,
                       &(SearchLimits){.depth = DEPTH}, NULL, &result, &choice);
            assert_true(movegen_is_legal(p, result.best));
            assert_int_equal(result.best, result.line.moves[0]);
            assert_in_range(choice.cost, 0, MARGIN);
            if (choice.reason != NO_PLAN_EFFECT) {
                preferred++;
                MoveList only = {1, {result.best}};
                player_forget(*state);
                player_think(*state, &game, &(SearchLimits){.depth = DEPTH, .only = &only}, NULL, &alone);
                player_forget(*state);
                player_think(*state, &game, &(SearchLimits){.depth = DEPTH}, NULL, &best);
                behind += best.line.score - alone.line.score;
            }
            ps_analysis analysis;
            int effects[PLAN_EFFECT_COUNT];
            structure_analyse(p, &analysis);
            plan_effects(p, &analysis, result.best, effects);
            if (style == SPAR_FAITHFUL)
                plays[0] += effects[EFFECT_PLAYS];
            if (style == SPAR_CONTRARY)
                plays[1] += effects[EFFECT_PLAYS];
            game_free(&game);
        }
    }
    openings_free(&set);
    assert_true(preferred >= OPENINGS);
    assert_true(behind <= MARGIN * preferred);
    assert_true(plays[0] > plays[1]);
}

/* With several lines the chosen one comes first, and none is told twice. */
typedef struct Told {
    int count;
    Move first[8];
} Told;

static void note_line(void *context, const Position *root, const SearchLine *line)
{
    Told *told = context;
    (void)root;
    assert_in_range(line->rank, 1, 8);
    told->first[line->rank - 1] = line->moves[0];
    if (line->rank > told->count)
        told->count = line->rank;
}

static void test_lines_are_reordered(void **state)
{
    Position p = playout_read(french, false);
    Game game;
    SearchResult result;
    SparChoice choice;
    Told told = {0};
    assert_true(game_start(&game, &p));
    player_forget(*state);
    spar_think(*state, &(Sparring){.style = SPAR_FAITHFUL, .margin = 100}, &game,
               &(SearchLimits){.depth = 6, .lines = 4},
               &(SearchListener){.line = note_line, .context = &told}, &result, &choice);
    assert_int_not_equal(choice.reason, NO_PLAN_EFFECT);
    assert_int_equal(told.count, 4);
    assert_int_equal(told.first[0], result.best);
    for (int i = 0; i < 4; i++)
        for (int j = 0; j < i; j++)
            assert_int_not_equal(told.first[i], told.first[j]);
    game_free(&game);
}

/* A mate is played whatever the style. */
static void test_mates_come_first(void **state)
{
    Position p = playout_read("6k1/5ppp/2p1p3/2PpP3/3P4/8/5PPP/R5K1 w - - 0 1", false);
    SearchResult result;
    SparChoice choice;
    for (SparStyle style = SPAR_OBJECTIVE; style < SPAR_STYLE_COUNT; style++) {
        spar(*state, &p, (Sparring){.style = style, .margin = SPAR_MARGIN_MOST}, NODES, &result, &choice);
        assert_int_equal(result.best, move_of(&p, "Ra8#"));
    }
}

static void test_levels_rise(void **state)
{
    (void)state;
    Strength before = strength_of(STRENGTH_LEAST);
    for (int elo = STRENGTH_LEAST; elo <= STRENGTH_MOST; elo++) {
        Strength strength = strength_of(elo);
        assert_true(strength.nodes >= before.nodes && strength.error <= before.error &&
                    strength.misses <= before.misses);
        before = strength;
    }
    assert_int_equal(before.error, 0);
    assert_true(before.nodes > 5 * strength_of(STRENGTH_LEAST).nodes);
}

/* The errors are the position's: mean 0, never beyond the bound, greater where pieces hang. */
static void test_misjudgement(void **state)
{
    enum { SEEDS = 4000, SIZE = 100 };
    (void)state;
    /* Nothing hangs; a bishop attacked by a pawn, and a rook that nobody guards, attacked by a bishop. */
    Position calm = playout_read(FEN_START, false),
             sharp = playout_read("r2qk3/8/3p4/4B3/1b6/8/3R4/6K1 b - - 0 1", false);
    assert_int_equal(misjudgement_loose_pieces(&calm), 0);
    assert_int_equal(misjudgement_loose_pieces(&sharp), 2);
    int64_t sums[2] = {0}, sizes[2] = {0};
    for (uint64_t seed = 0; seed < SEEDS; seed++) {
        const Position *positions[] = {&calm, &sharp};
        for (int i = 0; i < 2; i++) {
            int error = misjudge(&(Misjudgement){seed, SIZE}, positions[i]);
            assert_int_equal(error, misjudge(&(Misjudgement){seed, SIZE}, positions[i]));
            assert_in_range(abs(error), 0, i ? MISJUDGED_MOST : SIZE);
            sums[i] += error;
            sizes[i] += abs(error);
        }
    }
    assert_true(sizes[1] > 3 * sizes[0] / 2);
    for (uint64_t seed = 0; seed < SEEDS; seed++)
        assert_in_range(abs(misjudge(&(Misjudgement){seed, 3 * SIZE}, &sharp)), 0, MISJUDGED_MOST);
    /* The mean of the sum of two evenly spread numbers has a standard error of SIZE / sqrt(6 SEEDS): five of them. */
    assert_in_range(llabs(sums[0]) / SEEDS, 0, 4);
    assert_in_range(llabs(sums[1]) / SEEDS, 0, 8);
    assert_int_equal(misjudge(&(Misjudgement){7, 0}, &sharp), 0);
}

/* Whatever the seed, the weakest level takes its queen out of an attack, and takes one that hangs. */
static void test_no_queen_is_thrown_away(void **state)
{
    static const char *const attacked[] = {
        "r1bqkbnr/pppp1ppp/2n5/8/3QP3/8/PPP2PPP/RNB1KBNR w KQkq - 1 4",
        "rnb1kbnr/ppp1pppp/8/3q4/8/2N5/PPPP1PPP/R1BQKBNR b KQkq - 1 3",
    };
    enum { SEEDS = 60 };
    for (size_t i = 0; i < sizeof attacked / sizeof *attacked; i++) {
        Position p = playout_read(attacked[i], false);
        Side us = position_turn(&p);
        for (uint64_t seed = 0; seed < SEEDS; seed++) {
            SearchResult result;
            SparChoice choice;
            Position next = p;
            spar(*state, &p, (Sparring){.elo = STRENGTH_LEAST, .seed = seed}, 0, &result, &choice);
            position_play(&next, result.best);
            Square queen = first_square(position_men(&next, us, QUEEN));
            Bitboard near = position_attackers(&next, queen, position_occupied(&next));
            Bitboard enemies = near & next.by_side[opposite(us)];
            bool lost = (enemies & ~next.by_role[QUEEN]) || (enemies && !(near & next.by_side[us]));
            char text[MOVE_TEXT_SIZE];
            san_write(&p, result.best, text);
            if (lost)
                fail_msg("%s, seed %d: %s", attacked[i], (int)seed, text);
        }
    }
}

/* The same seed, the same game; and a limit of the client still holds. */
static void test_strength_is_deterministic(void **state)
{
    Position p = playout_read(french, false);
    SearchResult one, two;
    SparChoice choice;
    Sparring weak = {.elo = 1200, .seed = 5};
    int different = 0;
    spar(*state, &p, weak, 0, &one, &choice);
    spar(*state, &p, weak, 0, &two, &choice);
    assert_int_equal(one.best, two.best);
    assert_int_equal(one.nodes, two.nodes);
    assert_in_range(one.nodes, 1, strength_of(1200).nodes);
    spar(*state, &p, weak, 50, &two, &choice);
    assert_in_range(two.nodes, 1, 50);
    for (weak.seed = 0; weak.seed < 20; weak.seed++) {
        spar(*state, &p, weak, 0, &two, &choice);
        different += two.best != one.best;
    }
    assert_true(different > 0);
    /* Threads make a level neither stronger nor weaker, nor another one each time. */
    weak.seed = 5;
    assert_true(player_set_workers(*state, 4));
    spar(*state, &p, (Sparring){.elo = 0}, 20000, &two, &choice);
    for (int i = 0; i < 10; i++) {
        spar(*state, &p, weak, 0, &two, &choice);
        assert_int_equal(one.best, two.best);
        assert_int_equal(one.nodes, two.nodes);
    }
}

/* Levers are missed about as often as the strength says, and then the move is another one. */
static void test_missed_levers(void **state)
{
    enum { SEEDS = 4000 };
    (void)state;
    Position p = playout_read(french, false);
    Strength strength = {100, 0, 250};
    MoveList moves;
    int missed = 0;
    for (uint64_t seed = 0; seed < SEEDS; seed++)
        missed += strength_misses(&strength, seed, &p);
    assert_in_range(missed, SEEDS / 4 - 140, SEEDS / 4 + 140); /* five standard errors */
    movegen_all(&p, &moves);
    int before = moves.count;
    strength_leave_out_breaks(&p, &moves);
    /* The definitions, section 6: f5 attacks e6, b4 attacks c5, and the other pushes attack nothing. */
    assert_int_equal(moves.count, before - 2);
    for (int i = 0; i < moves.count; i++)
        assert_true(moves.moves[i] != move_of(&p, "f5") && moves.moves[i] != move_of(&p, "b4"));
    moves = (MoveList){1, {move_of(&p, "f5")}};
    strength_leave_out_breaks(&p, &moves);
    assert_int_equal(moves.count, 1);
}

static void play(Position *p, PlanNotes *notes, const char *text)
{
    Move move = move_of(p, text);
    plan_notes_move(notes, p, move);
    position_play(p, move);
}

static bool was_noted(const PlanNotes *notes, int ply, const char *part)
{
    for (int i = 0; i < notes->count; i++)
        if (notes->list[i].ply == ply && strstr(notes->list[i].text, part))
            return true;
    return false;
}

static void test_notes(void **state)
{
    static const char *const moves[] = {"e4", "e6", "d4", "d5", "e5", "Nd7", "Nf3", "Ne7", "c3", "b6", "b4"};
    (void)state;
    Position p = playout_read(FEN_START, false);
    PlanNotes notes;
    plan_notes_start(&notes, &p);
    assert_int_equal(notes.count, 0);
    for (int i = 0; i < 5; i++)
        play(&p, &notes, moves[i]);
    assert_true(was_noted(&notes, 5, "White has a plan"));
    assert_true(was_noted(&notes, 5, "the lever is c5; it is ready"));
    for (int i = 5; i < 9; i++)
        play(&p, &notes, moves[i]);
    assert_false(was_noted(&notes, 6, ""));
    play(&p, &notes, "Nc6");
    assert_int_equal(notes.ply, 10);
    /* ...c5 could have been played on the sixth, eighth and tenth ply. Then White takes the lock away. */
    play(&p, &notes, "Bd3");
    play(&p, &notes, "f6");
    play(&p, &notes, "exf6");
    assert_true(was_noted(&notes, 13, "Black missed c5, which was ready for"));
}

/* Each change that a move makes, and what a pupil hears of it. With White's d4 and e5 against d5 and e6 the levers are f5
 * and c5: the definitions, sections 2 and 3. */
static void test_notes_say_why(void **state)
{
    static const struct {
        const char *fen, *move, *note;
    } changes[] = {
        {"4k3/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/4K3 b - - 0 1", "f5",
         "White's f5 will not come: a pawn bars its way."},
        {"4k3/ppp2p2/4p3/3pP1p1/3P1P2/8/PPP5/4K3 w - - 0 1", "fxg5",
         "White's f5 will not come: the pawn that could play it has gone."},
        {"4k3/ppp5/4pP2/3pP1p1/3P1P2/8/PPP5/4K3 w - - 0 1", "fxg5",
         "White's f5 will not come: the pawn has gone past it."},
        {"4k3/ppp2p2/4p3/3pPn2/3P2P1/8/PPP2P2/4K3 w - - 0 1", "gxf5", "White has played the lever f5."},
        {"4k3/ppp3pp/4p3/3pP3/2PP4/8/PP3PPP/4K3 w - - 0 1", "cxd5",
         "White's f5 will not come: the lock is gone, and the lever with it."},
        {"4k3/pp3ppp/2n1p3/2ppP3/3P4/8/PPP2P2/4K3 b - - 0 1", "cxd4", "White's f5 will not come: the lock"},
        {"4k3/pp3ppp/4p3/3pP3/3P1P2/2p5/PPP3P1/4K3 w - - 0 1", "g4", "White's lever f5 is ready."},
        /* Black's b5 belongs to the c- and d-files; the d- and e-files are firmer, and f4 has no pawn. */
        {"4k3/1p2p3/3p4/2pP4/2P1P3/8/5P2/4K3 b - - 0 1", "e5",
         "Black's b5 counts no more: another chain comes first now."},
        /* Grade doubtful: the b- and c-files name a file and no wing. */
        {"4k3/6pp/1p6/1Pp5/2n5/3P4/P5PP/4K3 w - - 0 1", "dxc4",
         "White has a plan, but a doubtful one: the locked chain from the b- to the c-file points to the"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++) {
        Position p = playout_read(changes[i].fen, false);
        PlanNotes notes;
        plan_notes_start(&notes, &p);
        play(&p, &notes, changes[i].move);
        if (!was_noted(&notes, 1, changes[i].note)) {
            for (int n = 0; n < notes.count; n++)
                print_message("%d: %s\n", notes.list[n].ply, notes.list[n].text);
            fail_msg("%s %s: %s", changes[i].fen, changes[i].move, changes[i].note);
        }
    }
}

/* A reason compares the two moves, and names the lever that it speaks of. */
static void test_notes_of_a_choice(void **state)
{
    static const struct {
        SparChoice choice;
        const char *note;
    } choices[] = {
        {{.reason = EFFECT_PLAYS, .more = true, .cost = 7},
         "f5 is preferred to O-O-O: it plays the lever f5. That costs 0.07 pawns."},
        {{.reason = EFFECT_NEARER, .more = true, .cost = 0},
         "f5 is preferred to O-O-O: it leaves fewer tempi to the lever f5. That costs nothing."},
        {{.reason = EFFECT_GIVES_UP, .more = false, .cost = 100},
         "f5 is preferred to O-O-O: it does not give up the lever f5. That costs a pawn."},
        {{.reason = EFFECT_RELEASES, .more = false, .cost = 230},
         "f5 is preferred to O-O-O: it keeps the tension. That costs 2.30 pawns."},
        {{.reason = NO_PLAN_EFFECT}, ""},
    };
    char text[PLAN_NOTE_SIZE];
    (void)state;
    Position p = playout_read(french, false), waits = playout_read(advance, false);
    for (size_t i = 0; i < sizeof choices / sizeof *choices; i++) {
        SparChoice choice = choices[i].choice;
        choice.best = move_of(&p, "O-O-O");
        plan_notes_choice(&p, move_of(&p, "f5"), &choice, text);
        assert_string_equal(text, choices[i].note);
    }
    SparChoice choice = {.reason = EFFECT_HINDERS, .more = true, .best = move_of(&waits, "Nf3"), .cost = 12};
    plan_notes_choice(&waits, move_of(&waits, "Be3"), &choice, text);
    assert_string_equal(
        text, "Be3 is preferred to Nf3: it leaves more tempi to Black's lever c5. That costs 0.12 pawns.");
}

/* Whatever a style prefers, there are words for it. */
static void test_every_reason_has_words(void **state)
{
    (void)state;
    Position p = playout_read(french, false);
    for (SparStyle style = SPAR_FAITHFUL; style < SPAR_STYLE_COUNT; style++)
        for (int effect = 0; effect < PLAN_EFFECT_COUNT; effect++)
            for (int more = 0; more < 2; more++) {
                int chosen[PLAN_EFFECT_COUNT] = {0}, other[PLAN_EFFECT_COUNT] = {0};
                char text[PLAN_NOTE_SIZE];
                (more ? chosen : other)[effect] = 1;
                PlanEffect reason = spar_style_reason(style, chosen, other);
                if (reason == NO_PLAN_EFFECT)
                    continue;
                assert_int_equal(reason, effect);
                plan_notes_choice(&p, move_of(&p, "f5"),
                                  &(SparChoice){.reason = reason, .more = more, .best = move_of(&p, "O-O-O")},
                                  text);
                assert_non_null(strstr(text, "f5 is preferred to O-O-O: it "));
                assert_null(strstr(text, "(null)"));
            }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_effects),
        cmocka_unit_test(test_mirrored),
        cmocka_unit_test_setup_teardown(test_objective_is_the_player, start_player, stop_player),
        cmocka_unit_test_setup_teardown(test_margins, start_player, stop_player),
        cmocka_unit_test_setup_teardown(test_lines_are_reordered, start_player, stop_player),
        cmocka_unit_test_setup_teardown(test_mates_come_first, start_player, stop_player),
        cmocka_unit_test(test_levels_rise),
        cmocka_unit_test(test_misjudgement),
        cmocka_unit_test_setup_teardown(test_no_queen_is_thrown_away, start_player, stop_player),
        cmocka_unit_test_setup_teardown(test_strength_is_deterministic, start_player, stop_player),
        cmocka_unit_test(test_missed_levers),
        cmocka_unit_test(test_notes),
        cmocka_unit_test(test_notes_say_why),
        cmocka_unit_test(test_notes_of_a_choice),
        cmocka_unit_test(test_every_reason_has_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
