/* What `explain --json` prints beside a second reading of the definitions, letter by letter, on generated
 * positions and on every position of real games; and both beside positions worked out by hand. */
#include "bench/explain/explain.h"
#include "bench/pgn/pgn.h"
#include "engine/rules/notation.h"
#include "tests/structure/naive_structure.h"
#include "tests/structure/structure_positions.h"

#include <cjson/cJSON.h>

enum { POSITIONS = 100000, LINE_SIZE = 1 << 16 };

static const char games_file[] = "bench/games/masters-500.pgn";
static const char bratko_kopec_file[] = "bench/positions/bratko-kopec.epd";

/* ------------------------------------------------------------------------------------- the two readings */

/* The line that the harness prints, without its end. */
static void printed_line(const char *fen, char line[LINE_SIZE])
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE];
    if (!epd_parse(fen, &record, error))
        fail_msg("%s: %s", fen, error);
    FILE *out = fmemopen(line, LINE_SIZE, "w");
    assert_non_null(out);
    assert_true(explain_print_json(out, &record));
    assert_true(ftell(out) > 0 && ftell(out) < LINE_SIZE);
    fclose(out);
    epd_free(&record);
    char *end = strchr(line, '\n');
    assert_true(end && end[1] == '\0');
    *end = '\0';
}

static void second_line(const char *fen, char line[LINE_SIZE])
{
    naive_structure_json(fen, line, LINE_SIZE);
}

/* The two, by name. */
static const struct {
    const char *name;
    void (*read)(const char *fen, char line[LINE_SIZE]);
} readings[] = {{"explain", printed_line}, {"second reading", second_line}};

/* Fails at a position on which the two differ; else `line` is what both say. */
static void assert_both_agree(const char *fen, char line[LINE_SIZE])
{
    static char printed[LINE_SIZE];
    printed_line(fen, printed);
    second_line(fen, line);
    if (strcmp(printed, line) == 0)
        return;
    int same = 0;
    while (printed[same] == line[same])
        same++;
    int from = same < 60 ? 0 : same - 60;
    /* The lines are too long for fail_msg(). */
    fprintf(stderr,
            "%s\nexplain:        %s\nsecond reading: %s\nThey part behind ...%.*s\n"
            "explain:        %.70s\nsecond reading: %.70s\n",
            fen, printed, line, same - from, line + from, printed + same, line + same);
    fail_msg("the two readings differ on %s", fen);
}

/* ---------------------------------------------------------------------------------- generated positions */

static int occurrences(const char *line, const char *part)
{
    int count = 0;
    for (const char *at = line; (at = strstr(at, part)) != NULL; at += strlen(part))
        count++;
    return count;
}

/* What has to come up, by the letters that show it, and how often at least: a comparison that never meets a
 * class proves nothing about it. A status stands before "pawn" in a lever and before "tempi" in a plan. */
static const struct {
    const char *part;
    int least;
} wanted[] = {
    {"\"grade\":\"firm\"", 5000},
    {"\"grade\":\"likely\"", 5000},
    {"\"grade\":\"doubtful\"", 5000},
    {"\"grade\":\"void\"", 5000},
    {"\"toward\":null", 1000},
    {"\"base_lever\":null", 1000},
    {"\"head_lever\":null", 1000},
    {"\"status\":\"played\",\"pawn\"", 1000},
    {"\"status\":\"ready\",\"pawn\"", 1000},
    {"\"status\":\"open\",\"pawn\"", 1000},
    {"\"status\":\"unsupported\",\"pawn\"", 1000},
    {"\"status\":\"obstructed\",\"pawn\"", 1000},
    {"\"status\":\"beyond\",\"pawn\"", 1000},
    {"\"status\":\"cleared\",\"pawn\"", 1000},
    {"\"status\":\"gone\",\"pawn\"", 1000},
    {"\"status\":\"barred\",\"pawn\"", 1000},
    {"\"target_is_base\":true", 1000},
    {"\"target_is_base\":false", 1000},
    {"\"verdict\":\"applies\"", 1000},
    {"\"verdict\":\"fulfilled\"", 1000},
    {"\"verdict\":\"misleading\"", 1000},
    {"\"verdict\":\"weak\"", 1000},
    {"\"verdict\":\"none\"", 1000},
    {"\"region\":\"queenside\"", 1000},
    {"\"region\":\"centre\"", 1000},
    {"\"region\":\"kingside\"", 1000},
    {"\"lever\":null,\"status\":null,\"tempi\":null,\"room\":0", 1000}, /* the chain points off the board */
    {"\"status\":\"beyond\",\"tempi\"", 500},
    {"\"status\":\"cleared\",\"tempi\"", 500},
    {"\"not_linked\"", 500},
    {"\"same_way\"", 500},
    {"\"not_rammed\"", 500},
    {"\"rim\"", 500},
    {",\"rim\"", 50}, /* beside another near miss */
    {"\"first_to_break\":\"white\"", 1000},
    {"\"first_to_break\":\"black\"", 1000},
    {"\"first_to_break\":null", 1000},
    {"\"tension\":{\"white\":[\"", 1000},
    {"],\"black\":[\"", 1000}, /* nothing else with these letters stands in Black's lists */
    {"\"kind\":\"base\"", 1000},
    {"\"kind\":\"head\"", 1000},
    {"\"kind\":\"other\"", 1000},
};

typedef struct Seen {
    int parts[sizeof wanted / sizeof *wanted];
    int chains_of[9];      /* by the number of their files */
    int doubled_chains;    /* one after another on the same files */
    int several_chains[4]; /* positions with so many of them, and with more */
    int en_passant[2];     /* tension that is en passant, by the side to move */
} Seen;

static void note_chains(Seen *seen, const char *line)
{
    static const char key[] = "{\"files\":\"";
    const char *last = "";
    size_t last_files = 0;
    int count = 0;
    for (const char *at = line; (at = strstr(at, key)) != NULL; count++) {
        at += sizeof key - 1;
        size_t files = strcspn(at, "\"");
        assert_in_range(files, 2, 8);
        seen->chains_of[files]++;
        seen->doubled_chains += files == last_files && strncmp(at, last, files) == 0;
        last = at;
        last_files = files;
    }
    seen->several_chains[count < 3 ? count : 3]++;
}

/* A pawn that takes on the en passant square takes en passant: the square is empty. */
static void note_en_passant(Seen *seen, const char *fen, const char *line)
{
    const char *square = strrchr(fen, ' ') + 1;
    char capture_end[8];
    snprintf(capture_end, sizeof capture_end, "%s\"", square);
    const char *tension = strstr(line, "\"tension\"");
    const char *breaks = strstr(line, "\"breaks\"");
    for (const char *at = tension; *square != '-' && (at = strstr(at, capture_end)) != NULL && at < breaks;
         at++)
        seen->en_passant[square[1] == '3']++;
}

static void note(Seen *seen, const char *fen, const char *line)
{
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        seen->parts[i] += occurrences(line, wanted[i].part);
    note_chains(seen, line);
    note_en_passant(seen, fen, line);
}

static void assert_everything_came_up(const Seen *seen)
{
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (seen->parts[i] < wanted[i].least)
            fail_msg("%s came up %d times", wanted[i].part, seen->parts[i]);
    for (int files = 2; files <= 8; files++)
        print_message("chains of %d files: %d\n", files, seen->chains_of[files]);
    for (int files = 2; files <= CHAIN_FILES_MOST; files++)
        assert_true(seen->chains_of[files] >= 500);
    /* Six files would need a white pawn on the first rank or a black one on the eighth. */
    for (int files = CHAIN_FILES_MOST + 1; files <= 8; files++)
        assert_int_equal(seen->chains_of[files], 0);
    assert_true(seen->doubled_chains >= 500);
    for (int count = 0; count <= 3; count++)
        assert_true(seen->several_chains[count] >= 1000);
    assert_true(seen->en_passant[PS_WHITE] >= 500 && seen->en_passant[PS_BLACK] >= 500);
}

/* The same positions as in the next test. */
static void the_second_reading_meets_everything(void **state)
{
    (void)state;
    static char line[LINE_SIZE];
    static Seen seen;
    uint64_t seed = 20250301;
    for (int i = 0; i < POSITIONS; i++) {
        char fen[FEN_SIZE];
        random_position(fen, &seed);
        second_line(fen, line);
        note(&seen, fen, line);
    }
    assert_everything_came_up(&seen);
}

static void agree_on_generated_positions(void **state)
{
    (void)state;
    static char line[LINE_SIZE];
    uint64_t seed = 20250301;
    for (int i = 0; i < POSITIONS; i++) {
        char fen[FEN_SIZE];
        random_position(fen, &seed);
        assert_both_agree(fen, line);
    }
}

/* ------------------------------------------------------------------------------------------- real games */

typedef struct Walk {
    int games, positions, with_chains;
} Walk;

static void compare_position(Walk *walk, const Position *position)
{
    static char line[LINE_SIZE];
    char fen[FEN_SIZE];
    fen_write(position, fen);
    assert_both_agree(fen, line);
    walk->positions++;
    walk->with_chains += strstr(line, "\"chains\":[]") == NULL;
}

static bool on_begin(void *context, const PgnGame *game)
{
    compare_position(context, &game->start);
    return true;
}

static void on_move(void *context, const PgnGame *game, Move move)
{
    (void)move;
    compare_position(context, &game->position);
}

static void on_end(void *context, const PgnGame *game)
{
    (void)game;
    ((Walk *)context)->games++;
}

static void on_broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    (void)context, (void)game;
    fail_msg("%s:%zu: %s", games_file, fault->line, fault->text);
}

static void agree_on_real_games(void **state)
{
    (void)state;
    Walk walk = {0};
    const PgnVisitor visitor = {
        .context = &walk, .begin = on_begin, .move = on_move, .end = on_end, .broken = on_broken};
    assert_true(pgn_read_file(games_file, &visitor));
    print_message("%d games, %d positions, %d with chains\n", walk.games, walk.positions, walk.with_chains);
    assert_int_equal(walk.games, 500);
    assert_true(walk.positions > 30000 && walk.with_chains > 2000);
}

/* --------------------------------------------------------------------------------------- worked by hand */

enum { FRAGMENTS_MAX = 8 };

/* Parts of the line that must be there, with ' for the quotes of JSON. */
typedef struct Worked {
    const char *fen;
    const char *fragments[FRAGMENTS_MAX];
} Worked;

#define NO_PLAN                                                                                              \
    "{'verdict':'none','files':null,'region':null,'lever':null,'status':null,'tempi':null,'room':null,"      \
    "'pieces':null}"

static const Worked worked[] = {
    /* A main line of the King's Indian as any opening manual gives it (from memory). The chain is d5 e4 f3
     * against d6 e5 f4: White's head is d5, Black's f4. On c5 a knight guards, d6 attacks; on g4 the bishop
     * on c8 and a knight guard, f3 attacks. White's room: three files of four ranks, less c5. Black's: two
     * files of four ranks, less g4. */
    {"r1bq1rk1/ppp1n1bp/3p1n2/2PPp1p1/4Pp2/2NN1P2/PP1BB1PP/2RQ1RK1 b - -",
     {"'chains':[{'files':'def','grade':'firm','white':{'toward':'c','base_lever':{'square':'c5','target':'"
      "d6',"
      "'target_is_base':false,'status':'played','pawn':'c5','steps':0,'blockers':[],'supporters':1,"
      "'attackers':1,'tempi':0},'head_lever':{'square':'g3','target':'f4','target_is_base':false,"
      "'status':'ready','pawn':'g2','steps':1,'blockers':[],'supporters':1,'attackers':1,'tempi':1}},",
      "'black':{'toward':'g','base_lever':{'square':'g4','target':'f3','target_is_base':false,"
      "'status':'ready','pawn':'g5','steps':1,'blockers':[],'supporters':2,'attackers':1,'tempi':1},"
      "'head_lever':{'square':'c6','target':'d5','target_is_base':false,'status':'ready','pawn':'c7',"
      "'steps':1,'blockers':[],'supporters':2,'attackers':1,'tempi':1}}}],",
      "'plan':{'white':{'verdict':'applies','files':'def','region':'queenside','lever':'c5','status':'played'"
      ","
      "'tempi':0,'room':11,'pieces':2},'black':{'verdict':'applies','files':'def','region':'kingside',"
      "'lever':'g4','status':'ready','tempi':1,'room':7,'pieces':1}},'near_misses':[],",
      "'first_to_break':'white','tension':{'white':['c5d6'],'black':['d6c5']},",
      "'breaks':{'white':[{'from':'g2','to':'g3','targets':['f4'],'kind':'head','supporters':1,'attackers':1}"
      ","
      "{'from':'h2','to':'h4','targets':['g5'],'kind':'other','supporters':0,'attackers':1},"
      "{'from':'c5','to':'c6','targets':['b7'],'kind':'other','supporters':1,'attackers':2}],",
      "'black':[{'from':'g5','to':'g4','targets':['f3'],'kind':'base','supporters':2,'attackers':1},"
      "{'from':'b7','to':'b6','targets':['c5'],'kind':'other','supporters':2,'attackers':1},"
      "{'from':'c7','to':'c6','targets':['d5'],'kind':'head','supporters':2,'attackers':1}]}}"}},

    /* The French Advance with ...c4 played (from memory): c3 d4 e5 against c4 d5 e6. Before f5 stands the
     * knight on f3, before b4 the queen on b6; b4 is guarded by the queen, a knight and the bishop on f8. */
    {"r1b1kbnr/pp3ppp/1qn1p3/3pP3/2pP4/P1P2N2/1P1N1PPP/R1BQKB1R b kq -",
     {"'chains':[{'files':'cde','grade':'firm','white':{'toward':'f','base_lever':{'square':'f5','target':'"
      "e6',"
      "'target_is_base':false,'status':'obstructed','pawn':'f2','steps':2,'blockers':['f3'],'supporters':0,"
      "'attackers':1,'tempi':4},'head_lever':{'square':'b3','target':'c4','target_is_base':false,"
      "'status':'ready','pawn':'b2','steps':1,'blockers':[],'supporters':2,'attackers':2,'tempi':1}},",
      "'black':{'toward':'b','base_lever':{'square':'b4','target':'c3','target_is_base':false,"
      "'status':'obstructed','pawn':'b7','steps':2,'blockers':['b6'],'supporters':3,'attackers':2,'tempi':3},"
      "'head_lever':{'square':'f6','target':'e5','target_is_base':false,'status':'ready','pawn':'f7',"
      "'steps':1,'blockers':[],'supporters':2,'attackers':1,'tempi':1}}}],",
      "'region':'kingside','lever':'f5','status':'obstructed','tempi':4,'room':11,'pieces':3}",
      "'region':'queenside','lever':'b4','status':'obstructed','tempi':3,'room':7,'pieces':2}",
      "'first_to_break':'black','tension':{'white':[],'black':[]}"}},

    /* White has gone past f5; the c-file is open; f6 is gone, because White's pawn stands on that file. */
    {"4k3/8/4pP2/3pP3/3P4/8/8/4K3 w - -",
     {"'base_lever':{'square':'f5','target':'e6','target_is_base':true,'status':'beyond','pawn':null,"
      "'steps':null,'blockers':[],'supporters':null,'attackers':null,'tempi':null},'head_lever':{'square':'"
      "c4',"
      "'target':'d5','target_is_base':false,'status':'cleared','pawn':null",
      "'base_lever':{'square':'c5','target':'d4','target_is_base':true,'status':'cleared','pawn':null,"
      "'steps':null,'blockers':[],'supporters':null,'attackers':null,'tempi':null},'head_lever':{'square':'"
      "f6',"
      "'target':'e5','target_is_base':false,'status':'gone','pawn':null",
      "'white':{'verdict':'fulfilled','files':'de','region':'kingside','lever':'f5','status':'beyond',"
      "'tempi':null,'room':11,'pieces':0},'black':{'verdict':'fulfilled','files':'de','region':'queenside',"
      "'lever':'c5','status':'cleared','tempi':null,'room':8,'pieces':0}},'near_misses':[],"
      "'first_to_break':null,'tension':{'white':[],'black':[]},'breaks':{'white':[],'black':[]}}"}},

    /* White's f-pawn is barred by the pawn on f5, which has itself gone past f6. */
    {"4k3/8/4p3/3pPp2/3P4/8/5P2/4K3 b - -",
     {"'base_lever':{'square':'f5','target':'e6','target_is_base':true,'status':'barred','pawn':'f2',"
      "'steps':null,'blockers':[],'supporters':null,'attackers':null,'tempi':null}",
      "'head_lever':{'square':'f6','target':'e5','target_is_base':false,'status':'beyond','pawn':null",
      "'white':{'verdict':'misleading','files':'de','region':'kingside','lever':'f5','status':'barred',"
      "'tempi':null,'room':10,'pieces':0},'black':{'verdict':'fulfilled'"}},

    /* With f4 lifted the rook guards f5 along the file. */
    {"4k3/8/4p3/3pP3/3P1P2/8/8/4KR2 w - -",
     {"'status':'ready','pawn':'f4','steps':1,'blockers':[],'supporters':1,'attackers':1,'tempi':1}",
      "{'from':'f4','to':'f5','targets':['e6'],'kind':'base','supporters':1,'attackers':1}",
      "'first_to_break':'white'"}},

    /* A void chain is listed and is no plan; Black's points off the board. */
    {"4k3/8/1p6/pP6/P7/8/8/4K3 w - -",
     {"'chains':[{'files':'ab','grade':'void','white':{'toward':'c','base_lever':{'square':'c5','target':'b6'"
      ","
      "'target_is_base':true,'status':'cleared','pawn':null,'steps':null,'blockers':[],'supporters':null,"
      "'attackers':null,'tempi':null},'head_lever':null},'black':{'toward':null,'base_lever':null,"
      "'head_lever':{'square':'c6','target':'b5','target_is_base':false,'status':'cleared'",
      "'plan':{'white':" NO_PLAN ",'black':" NO_PLAN "},'near_misses':['rim'],'first_to_break':null,"}},

    /* A chain of four: its grade is that of c and d. White points off the board; Black's e3 has three steps
     * to go, and d2 attacks it. The pawn on e2 is White's head lever, played, and takes or is taken. */
    {"6k1/4p3/p7/Pp6/1Pp5/2Pp4/3PP3/6K1 w - -",
     {"'chains':[{'files':'abcd','grade':'likely','white':{'toward':null,'base_lever':null,"
      "'head_lever':{'square':'e2','target':'d3','target_is_base':false,'status':'played','pawn':'e2',"
      "'steps':0,'blockers':[],'supporters':0,'attackers':1,'tempi':0}},'black':{'toward':'e',"
      "'base_lever':{'square':'e3','target':'d2','target_is_base':true,'status':'unsupported','pawn':'e7',"
      "'steps':3,'blockers':[],'supporters':0,'attackers':1,'tempi':4},'head_lever':null}}],",
      "'plan':{'white':{'verdict':'misleading','files':'abcd','region':'queenside','lever':null,'status':"
      "null,"
      "'tempi':null,'room':0,'pieces':0},'black':{'verdict':'applies','files':'abcd','region':'centre',"
      "'lever':'e3','status':'unsupported','tempi':4,'room':18,'pieces':0}},'near_misses':['rim'],"
      "'first_to_break':'black','tension':{'white':['e2d3'],'black':['d3e2']},"
      "'breaks':{'white':[],'black':[]}}"}},

    /* The longest chain there can be. Two pawns attack f6; one step and the two guards it lacks make three.
     */
    {"6k1/4ppp1/3pP3/2pP1P2/1pP5/pP6/P7/6K1 w - -",
     {"'chains':[{'files':'abcde','grade':'firm','white':{'toward':'f','base_lever':{'square':'f6',"
      "'target':'e7','target_is_base':true,'status':'unsupported','pawn':'f5','steps':1,'blockers':[],"
      "'supporters':0,'attackers':2,'tempi':3},'head_lever':null},'black':{'toward':null,'base_lever':null,"
      "'head_lever':{'square':'f7','target':'e6','target_is_base':false,'status':'played','pawn':'f7',"
      "'steps':0,'blockers':[],'supporters':1,'attackers':1,'tempi':0}}}],",
      "'region':'kingside','lever':'f6','status':'unsupported','tempi':3,'room':12,'pieces':0},"
      "'black':{'verdict':'misleading','files':'abcde','region':'queenside','lever':null,",
      "'near_misses':['rim'],'first_to_break':'white','tension':{'white':['e6f7'],'black':['f7e6']},"
      "'breaks':{'white':[{'from':'f5','to':'f6','targets':['e7','g7'],'kind':'base','supporters':0,"
      "'attackers':2}],'black':[{'from':'g7','to':'g6','targets':['f5'],'kind':'other','supporters':1,"
      "'attackers':1}]}}"}},

    /* Two rams on the d-file, one on the e-file: two chains, the lower one first. White plays f4 in the first
     * and has no pawn for c5 in the second; Black's c6 is the head lever of the second. */
    {"6k1/2p5/3p4/3Pp3/3pP3/3P4/5P2/6K1 b - -",
     {"'chains':[{'files':'de','grade':'firm','white':{'toward':'f','base_lever':{'square':'f4','target':'e5'"
      ","
      "'target_is_base':false,'status':'unsupported','pawn':'f2','steps':1,'blockers':[],'supporters':0,"
      "'attackers':1,'tempi':2},'head_lever':{'square':'c3','target':'d4','target_is_base':false,"
      "'status':'gone'",
      "{'files':'de','grade':'firm','white':{'toward':'c','base_lever':{'square':'c5','target':'d6',"
      "'target_is_base':false,'status':'gone'",
      "'plan':{'white':{'verdict':'applies','files':'de','region':'kingside','lever':'f4','status':"
      "'unsupported','tempi':2,'room':8,'pieces':0},'black':{'verdict':'applies','files':'de',"
      "'region':'queenside','lever':'c4','status':'unsupported','tempi':3,'room':10,'pieces':0}},"
      "'near_misses':[],'first_to_break':'white','tension':{'white':[],'black':[]},"
      "'breaks':{'white':[{'from':'f2','to':'f4','targets':['e5'],'kind':'base','supporters':0,"
      "'attackers':1}],'black':[{'from':'c7','to':'c6','targets':['d5'],'kind':'head','supporters':0,"
      "'attackers':1}]}}"}},

    /* The same rams with other pawns beside them. White's f4 in the first chain is gone, c5 in the second is
     * cleared, and comes first; Black's c4 in the first is cleared, f5 in the second is live, and comes
     * first. */
    {"6k1/5p2/3p4/3Pp3/3pP3/3P4/8/6K1 w - -",
     {"'plan':{'white':{'verdict':'fulfilled','files':'de','region':'queenside','lever':'c5','status':'"
      "cleared',"
      "'tempi':null,'room':10,'pieces':0},'black':{'verdict':'applies','files':'de','region':'kingside',"
      "'lever':'f5','status':'unsupported','tempi':2,'room':8,'pieces':0}},",
      "'first_to_break':'black'"}},

    /* f4 and c5 lack a guard each and are a step away: equal, so the first chain's. With a pawn on b4 c5 has
     * its guard. */
    {"6k1/8/3p4/3Pp3/2PpP3/3P4/5P2/6K1 w - -", {"'lever':'f4','status':'unsupported','tempi':2,"}},
    {"6k1/8/3p4/3Pp3/1PPpP3/3P4/5P2/6K1 w - -", {"'lever':'c5','status':'ready','tempi':1,"}},

    /* One tempo each: the side to move is the first. */
    {"2r1k3/8/2p1p3/3pP3/3P1P2/8/8/4KR2 w - -",
     {"'lever':'f5','status':'ready','tempi':1,", "'lever':'c5','status':'ready','tempi':1,",
      "'first_to_break':'white'"}},
    {"2r1k3/8/2p1p3/3pP3/3P1P2/8/8/4KR2 b - -", {"'first_to_break':'black'"}},

    /* On e4 White's pawn is the base lever of c3 d4 and the head lever of c5 d4. */
    {"4k3/8/2p5/2Pp4/2pP4/2P5/4P3/4K3 w - -",
     {"'chains':[{'files':'cd','grade':'likely','white':{'toward':'e','base_lever':{'square':'e4','target':'"
      "d5'",
      "'toward':'b','base_lever':{'square':'b5','target':'c6'",
      "'breaks':{'white':[{'from':'e2','to':'e4','targets':['d5'],'kind':'base','supporters':0,"
      "'attackers':1}],'black':[]}}"}},

    /* A doubtful chain; White's points off the board. */
    {"4k3/8/7p/4p1pP/5pP1/5P2/8/4K3 w - -",
     {"'chains':[{'files':'fgh','grade':'doubtful','white':{'toward':null,'base_lever':null,",
      "'plan':{'white':{'verdict':'weak','files':'fgh','region':'kingside','lever':null,'status':null,"
      "'tempi':null,'room':0,'pieces':0},'black':{'verdict':'weak','files':'fgh','region':'centre',"
      "'lever':'e4','status':'unsupported','tempi':2,'room':19,'pieces':0}},'near_misses':['rim'],"
      "'first_to_break':'black',"}},

    /* A pawn of a chain takes a knight; a king it only checks; en passant only if the square is named, made
     * by a chain's pawn or against one. */
    {"4k3/8/4pn2/3pP3/3P4/8/8/4K3 b - -", {"'tension':{'white':['e5f6'],'black':[]}"}},
    {"8/8/3kp3/3pP3/3P4/8/8/4K3 b - -", {"'tension':{'white':[],'black':[]}"}},
    {"4k3/8/4p3/3pPp2/3P4/8/8/4K3 w - f6", {"'tension':{'white':['e5f6'],'black':[]}"}},
    {"4k3/8/4p3/3pPp2/3P4/8/8/4K3 w - -", {"'tension':{'white':[],'black':[]}"}},
    {"4k3/8/3p4/3Pp3/4Pp2/8/8/4K3 b - e3", {"'tension':{'white':[],'black':['f4e3']}"}},
    {"4k3/8/3p4/3Pp3/4Pp2/8/8/4K3 b - -", {"'tension':{'white':[],'black':[]}"}},

    /* Near misses. Rams that do not stand crooked; d3 e4 and d6 e5, both towards the kingside; d3 e4 alone
     * linked; the same without a black d-pawn. */
    {"4k3/8/8/3pp3/3PP3/8/8/4K3 w - -", {"'chains':[],", "'near_misses':['not_linked'],"}},
    {"4k3/8/3p4/4p3/4P3/3P4/8/4K3 b - -",
     {"'near_misses':['same_way'],'first_to_break':null,'tension':{'white':[],'black':[]},"
      "'breaks':{'white':[{'from':'d3','to':'d4','targets':['e5'],'kind':'other','supporters':0,"
      "'attackers':1}],'black':[{'from':'d6','to':'d5','targets':['e4'],'kind':'other','supporters':0,"
      "'attackers':1}]}}"}},
    {"4k3/3p4/8/4p3/4P3/3P4/8/4K3 w - -", {"'near_misses':['not_rammed'],"}},
    {"4k3/8/8/4p3/4P3/3P4/8/4K3 w - -", {"'near_misses':[],"}},
};

static void assert_fragments(const char *reading, const Worked *position, char *line)
{
    for (char *at = line; (at = strchr(at, '"')) != NULL;)
        *at = '\'';
    for (int i = 0; i < FRAGMENTS_MAX && position->fragments[i]; i++)
        if (strstr(line, position->fragments[i]) == NULL) {
            fprintf(stderr, "%s\n%s: %s\nexpected in it: %s\n", position->fen, reading, line,
                    position->fragments[i]);
            fail_msg("%s is wrong about %s", reading, position->fen);
        }
}

static void assert_worked(size_t reading)
{
    static char line[LINE_SIZE];
    for (size_t i = 0; i < sizeof worked / sizeof *worked; i++) {
        readings[reading].read(worked[i].fen, line);
        assert_fragments(readings[reading].name, &worked[i], line);
    }
}

static void explain_finds_what_was_worked_by_hand(void **state)
{
    (void)state;
    assert_worked(0);
}

static void the_second_reading_finds_it_too(void **state)
{
    (void)state;
    assert_worked(1);
}

/* ---------------------------------------------------------------------------------------- the published test
 *
 * D. Kopec, I. Bratko, "The Bratko-Kopec experiment", in Advances in Computer Chess 3 (ed. M. R. B. Clarke),
 * 1982: in each of the 12 positions classed as lever positions a published best move is a break. */

/* What the side to move's plan and the published break must be. */
static const struct {
    const char *id, *verdict, *status, *kind;
} published[] = {
    {"Bratko-Kopec 3", "applies", "ready", "base"},
    {"Bratko-Kopec 11", "misleading", "barred", "head"},
    {"Bratko-Kopec 24", "misleading", "barred", "head"},
    {"Bratko-Kopec 17", "applies", "obstructed", "other"},
};

static const char *text_at(const cJSON *object, const char *key)
{
    const char *text = cJSON_GetStringValue(cJSON_GetObjectItem(object, key));
    return text ? text : "null";
}

static const cJSON *of_side(const cJSON *line, const char *key, const EpdRecord *record)
{
    const char *side = position_turn(&record->position) == WHITE ? "white" : "black";
    return cJSON_GetObjectItem(cJSON_GetObjectItem(line, key), side);
}

/* The break that is one of the best moves; null if none is. */
static const cJSON *published_break(const cJSON *line, const EpdRecord *record)
{
    MoveList best;
    char error[EPD_ERROR_SIZE];
    assert_true(epd_moves(record, "bm", &best, error));
    const cJSON *push;
    cJSON_ArrayForEach(push, of_side(line, "breaks", record))
    {
        for (int i = 0; i < best.count; i++)
            if (square_named(text_at(push, "from")) == move_from(best.moves[i]) &&
                square_named(text_at(push, "to")) == move_to(best.moves[i]))
                return push;
    }
    return NULL;
}

typedef struct Publication {
    size_t reading;
    int lever_positions, detailed;
} Publication;

static bool on_published(void *context, const EpdRecord *record)
{
    static char text[LINE_SIZE];
    Publication *publication = context;
    if (strcmp(epd_text(record, "c0"), "lever") != 0)
        return true;
    readings[publication->reading].read(record->fields, text);
    cJSON *line = cJSON_Parse(text);
    const cJSON *push = published_break(line, record);
    const cJSON *plan = of_side(line, "plan", record);
    const char *id = epd_text(record, "id");
    if (!push)
        fail_msg("%s: no best move is a break: %s", id, text);
    for (size_t i = 0; i < sizeof published / sizeof *published; i++) {
        if (strcmp(published[i].id, id) != 0)
            continue;
        assert_string_equal(text_at(plan, "verdict"), published[i].verdict);
        assert_string_equal(text_at(plan, "status"), published[i].status);
        assert_string_equal(text_at(push, "kind"), published[i].kind);
        publication->detailed++;
    }
    cJSON_Delete(line);
    publication->lever_positions++;
    return true;
}

static void assert_published(size_t reading)
{
    Publication publication = {.reading = reading};
    assert_true(epd_read_file(bratko_kopec_file, on_published, &publication));
    assert_int_equal(publication.lever_positions, 12);
    assert_int_equal(publication.detailed, 4);
}

static void explain_agrees_with_the_published_test(void **state)
{
    (void)state;
    assert_published(0);
}

static void the_second_reading_agrees_with_it_too(void **state)
{
    (void)state;
    assert_published(1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_second_reading_finds_it_too),
        cmocka_unit_test(explain_finds_what_was_worked_by_hand),
        cmocka_unit_test(the_second_reading_agrees_with_it_too),
        cmocka_unit_test(explain_agrees_with_the_published_test),
        cmocka_unit_test(the_second_reading_meets_everything),
        cmocka_unit_test(agree_on_generated_positions),
        cmocka_unit_test(agree_on_real_games),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
