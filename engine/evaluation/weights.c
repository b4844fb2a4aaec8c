/* clang-format off */
/* Tuned: written by
 *     pawnvane-bench fit --sample s1.epd s2.epd s3.epd s4.epd s5.epd s6.epd s7.epd s8.epd s9.epd t1.epd t2.epd t3.epd t4.epd --every 3 --prior 60 --blend 0.3 --units 3 --workers 1 --quiet --write weights.c --write-lever lever.c
 * on the sample of
 *     pawnvane-bench fit --games 1500 --seed 501 --nodes 1000 --sample s1.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 502 --nodes 1000 --sample s2.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 503 --nodes 1000 --sample s3.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 504 --nodes 1000 --sample s4.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 505 --nodes 1000 --sample s5.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 506 --nodes 1000 --sample s6.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 507 --nodes 1000 --sample s7.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 508 --nodes 1000 --sample s8.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 509 --nodes 1000 --sample s9.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 601 --nodes 1000 --sample t1.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 602 --nodes 1000 --sample t2.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 603 --nodes 1000 --sample t3.epd --workers 1 --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 604 --nodes 1000 --sample t4.epd --workers 1 --quiet --steps 4
 * Mean log-loss on the 351471 positions of the 15597 games fitted to: 0.55202 before, 0.54946 after;
 * on the 87342 positions of the 3900 games held out: 0.56309 before, 0.56127 after. See bench/fit/fit.h. */
#include "engine/evaluation/weights.h"

const EvalWeights default_weights = {
    .material = {
        PAIR(30, 114),   PAIR(253, 401),  PAIR(245, 422),  PAIR(312, 677),  PAIR(826, 1133),
    },
    .square = {
        [PAWN] = {
            PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),
            PAIR(-13, 11),   PAIR(10, 12),    PAIR(-2, 8),     PAIR(-9, 35),
            PAIR(-1, 5),     PAIR(1, 4),      PAIR(-3, -4),    PAIR(2, 7),
            PAIR(-7, 9),     PAIR(1, 6),      PAIR(8, -9),     PAIR(10, -8),
            PAIR(-3, 20),    PAIR(6, 28),     PAIR(9, 23),     PAIR(8, 1),
            PAIR(11, 18),    PAIR(0, 8),      PAIR(28, 28),    PAIR(16, 9),
            PAIR(36, 17),    PAIR(16, 22),    PAIR(46, 37),    PAIR(30, 32),
            PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),
        },
        [KNIGHT] = {
            PAIR(-33, -44),  PAIR(-31, -30),  PAIR(-34, -10),  PAIR(-20, -11),
            PAIR(-26, 3),    PAIR(-21, 7),    PAIR(-6, -30),   PAIR(-17, -14),
            PAIR(-20, -31),  PAIR(-3, -34),   PAIR(-5, 1),     PAIR(-8, 17),
            PAIR(0, 5),      PAIR(9, -10),    PAIR(14, 5),     PAIR(9, 27),
            PAIR(24, -31),   PAIR(5, 16),     PAIR(17, 22),    PAIR(15, 38),
            PAIR(-26, -9),   PAIR(2, 12),     PAIR(12, 2),     PAIR(11, 25),
            PAIR(-36, -26),  PAIR(-45, -16),  PAIR(2, 3),      PAIR(12, 33),
            PAIR(-37, -39),  PAIR(-46, -23),  PAIR(-49, -40),  PAIR(-36, -23),
        },
        [BISHOP] = {
            PAIR(-20, -24),  PAIR(-45, 22),   PAIR(-8, -6),    PAIR(10, -7),
            PAIR(-23, -17),  PAIR(8, -35),    PAIR(14, -12),   PAIR(1, 8),
            PAIR(0, 9),      PAIR(4, 10),     PAIR(-3, -7),    PAIR(2, 25),
            PAIR(6, -18),    PAIR(-11, 2),    PAIR(7, 30),     PAIR(18, 21),
            PAIR(-11, -4),   PAIR(11, -4),    PAIR(4, 15),     PAIR(15, 22),
            PAIR(-8, -3),    PAIR(12, -14),   PAIR(1, 0),      PAIR(23, 1),
            PAIR(-30, 2),    PAIR(-49, -8),   PAIR(16, 12),    PAIR(-10, 24),
            PAIR(-27, -6),   PAIR(-32, 22),   PAIR(-39, -1),   PAIR(-22, 7),
        },
        [ROOK] = {
            PAIR(-10, -10),  PAIR(-3, -15),   PAIR(2, -13),    PAIR(9, -19),
            PAIR(-31, -7),   PAIR(13, -12),   PAIR(-1, -11),   PAIR(-1, -20),
            PAIR(-11, -10),  PAIR(2, 0),      PAIR(-10, 10),   PAIR(-28, 1),
            PAIR(-13, 14),   PAIR(-12, 21),   PAIR(-3, 13),    PAIR(-2, 20),
            PAIR(-19, 31),   PAIR(-9, 39),    PAIR(11, 14),    PAIR(-19, 20),
            PAIR(-25, 32),   PAIR(21, 21),    PAIR(20, 10),    PAIR(7, 1),
            PAIR(-11, 16),   PAIR(-9, 14),    PAIR(30, 1),     PAIR(14, 2),
            PAIR(-6, 27),    PAIR(-32, 25),   PAIR(2, 15),     PAIR(-9, 19),
        },
        [QUEEN] = {
            PAIR(-4, -30),   PAIR(-8, -34),   PAIR(-19, -36),  PAIR(4, -45),
            PAIR(-12, -6),   PAIR(2, -4),     PAIR(19, -68),   PAIR(2, -36),
            PAIR(-16, 14),   PAIR(10, -14),   PAIR(1, 10),     PAIR(-7, 8),
            PAIR(-5, 12),    PAIR(-5, 11),    PAIR(-11, 34),   PAIR(-5, 13),
            PAIR(9, 5),      PAIR(-26, 54),   PAIR(-10, 34),   PAIR(-22, 27),
            PAIR(-9, -6),    PAIR(-8, 16),    PAIR(-17, 59),   PAIR(-9, 22),
            PAIR(2, 24),     PAIR(-8, 35),    PAIR(5, 22),     PAIR(-7, 27),
            PAIR(-12, -22),  PAIR(-4, 1),     PAIR(-5, 17),    PAIR(10, 2),
        },
        [KING] = {
            PAIR(13, -90),   PAIR(13, -55),   PAIR(-5, -45),   PAIR(-12, -48),
            PAIR(8, -45),    PAIR(-6, -25),   PAIR(-20, -11),  PAIR(-30, -18),
            PAIR(-44, -24),  PAIR(2, -15),    PAIR(-40, 8),    PAIR(-24, 12),
            PAIR(-42, -21),  PAIR(-35, -1),   PAIR(-54, 9),    PAIR(-63, 33),
            PAIR(-56, -19),  PAIR(-34, 11),   PAIR(-65, 43),   PAIR(-78, 38),
            PAIR(-59, 9),    PAIR(-49, 32),   PAIR(-68, 63),   PAIR(-60, 60),
            PAIR(-39, -4),   PAIR(-36, 22),   PAIR(-66, 28),   PAIR(-80, 34),
            PAIR(-61, -90),  PAIR(-29, 26),   PAIR(-57, 16),   PAIR(-81, 16),
        },
    },
    .knight_mobility = {
        PAIR(-34, -10),  PAIR(-24, -44),  PAIR(-18, -12),  PAIR(-13, 4),    PAIR(-9, 5),
        PAIR(-6, 15),    PAIR(-5, 19),    PAIR(-2, 9),     PAIR(-3, -3),
    },
    .bishop_mobility = {
        PAIR(-27, -23),  PAIR(-21, -30),  PAIR(-11, 3),    PAIR(-4, 6),     PAIR(-1, 13),
        PAIR(1, 16),     PAIR(6, 19),     PAIR(5, 16),     PAIR(2, 22),     PAIR(3, 15),
        PAIR(-3, 11),    PAIR(19, -16),   PAIR(2, 23),     PAIR(-5, -1),
    },
    .rook_mobility = {
        PAIR(-53, -91),  PAIR(-18, -23),  PAIR(-13, -30),  PAIR(-13, -3),   PAIR(-8, 4),
        PAIR(-10, 20),   PAIR(-10, 30),   PAIR(-3, 27),    PAIR(-2, 34),    PAIR(0, 35),
        PAIR(-1, 49),    PAIR(12, 45),    PAIR(0, 53),     PAIR(7, 59),     PAIR(-17, 73),
    },
    .queen_mobility = {
        PAIR(-12, -42),  PAIR(-10, -24),  PAIR(-21, -15),  PAIR(-13, -51),  PAIR(-11, -44),
        PAIR(-10, 3),    PAIR(-3, -27),   PAIR(-4, 1),     PAIR(-3, 23),    PAIR(-2, 32),
        PAIR(-1, 32),    PAIR(0, 32),     PAIR(4, 25),     PAIR(2, 50),     PAIR(6, 34),
        PAIR(4, 62),     PAIR(6, 63),     PAIR(8, 64),     PAIR(21, 66),    PAIR(24, 62),
        PAIR(8, 49),     PAIR(9, 48),     PAIR(15, 39),    PAIR(0, 15),     PAIR(-4, 19),
        PAIR(-12, 6),    PAIR(17, 49),    PAIR(3, 37),
    },
    .bishop_pair = PAIR(8, 65),
    .bishop_own_pawn_on_colour = PAIR(-4, -2),
    .bishop_blocked_centre = PAIR(-1, -1),
    .bishop_long_diagonal = PAIR(9, 32),
    .knight_king_distance = PAIR(-5, -1),
    .knight_pawns = PAIR(7, 10),
    .bishop_pawns = PAIR(11, -1),
    .outpost_knight = PAIR(13, 6),
    .outpost_bishop = PAIR(11, 25),
    .outpost_in_reach = PAIR(19, 2),
    .minor_behind_pawn = PAIR(1, 18),
    .rook_open_file = PAIR(24, 10),
    .rook_half_open_file = PAIR(12, 20),
    .rook_on_seventh = PAIR(-6, 19),
    .rook_trapped = PAIR(-27, 3),
    .isolated = PAIR(4, -11),
    .doubled = PAIR(-5, -19),
    .backward = PAIR(-2, 5),
    .weak_on_open_file = PAIR(-10, -11),
    .phalanx = {
        PAIR(0, 0),      PAIR(1, 0),      PAIR(6, 2),      PAIR(2, 15),
        PAIR(8, 30),     PAIR(42, 55),    PAIR(56, 64),    PAIR(0, 0),
    },
    .defended = {
        PAIR(0, 0),      PAIR(0, 0),      PAIR(8, 15),     PAIR(6, 9),
        PAIR(12, 17),    PAIR(17, 28),    PAIR(93, 39),    PAIR(0, 0),
    },
    .defended_open = {
        PAIR(0, 0),      PAIR(0, 0),      PAIR(4, -6),     PAIR(7, 5),
        PAIR(1, 13),     PAIR(40, 11),    PAIR(33, -1),    PAIR(0, 0),
    },
    .passed = {
        PAIR(0, 0),      PAIR(7, 24),     PAIR(6, 37),     PAIR(-26, 77),
        PAIR(-20, 82),   PAIR(40, 62),    PAIR(88, 74),    PAIR(0, 0),
    },
    .passed_free_stop = {
        PAIR(0, 0),      PAIR(-11, 15),   PAIR(7, -10),    PAIR(2, -4),
        PAIR(-9, 13),    PAIR(7, 10),     PAIR(77, 51),    PAIR(0, 0),
    },
    .passed_safe_path = {
        PAIR(0, 0),      PAIR(-14, 30),   PAIR(-39, 22),   PAIR(-31, 40),
        PAIR(-38, 54),   PAIR(21, 80),    PAIR(31, 92),    PAIR(0, 0),
    },
    .passed_own_king = {
        PAIR(0, 0),      PAIR(-2, -1),    PAIR(6, -8),     PAIR(15, -16),
        PAIR(13, -19),   PAIR(-8, -10),   PAIR(-10, -16),  PAIR(0, 0),
    },
    .passed_enemy_king = {
        PAIR(0, 0),      PAIR(-1, -3),    PAIR(-12, 4),    PAIR(-13, 8),
        PAIR(-11, 17),   PAIR(1, 30),     PAIR(-2, 41),    PAIR(0, 0),
    },
    .passed_guarded = {
        PAIR(0, 0),      PAIR(7, 13),     PAIR(-10, 15),   PAIR(-1, 11),
        PAIR(9, 4),      PAIR(33, 14),    PAIR(30, 108),   PAIR(0, 0),
    },
    .passed_rook_behind = PAIR(12, 24),
    .passed_enemy_rook_behind = PAIR(-16, -51),
    .passed_unstoppable = PAIR(0, 192),
    .shelter = {
        PAIR(-17, -1),   PAIR(20, -9),    PAIR(7, -8),     PAIR(1, -1),
        PAIR(-4, 0),     PAIR(-8, 10),    PAIR(-11, 12),   PAIR(0, 0),
    },
    .storm = {
        PAIR(-12, -16),  PAIR(9, 38),     PAIR(-36, 19),   PAIR(-7, 2),
        PAIR(-9, -15),   PAIR(-3, -21),   PAIR(-6, -9),    PAIR(0, 0),
    },
    .storm_blocked = PAIR(10, -17),
    .king_on_half_open_file = PAIR(0, 6),
    .king_on_open_file = PAIR(-26, -14),
    .king_without_pawns = PAIR(-4, -57),
    .danger = {
        PAIR(-26, 21),   PAIR(-30, 9),    PAIR(-31, -7),   PAIR(-37, -10),
        PAIR(-38, -11),  PAIR(-46, -18),  PAIR(-51, -30),  PAIR(-58, -26),
        PAIR(-73, -10),  PAIR(-86, -14),  PAIR(-97, -20),  PAIR(-95, -32),
        PAIR(-131, -15), PAIR(-145, -28), PAIR(-163, -38), PAIR(-177, -21),
        PAIR(-208, -13), PAIR(-235, -5),  PAIR(-273, -2),  PAIR(-297, -5),
        PAIR(-339, -7),  PAIR(-372, -11), PAIR(-406, -19), PAIR(-418, -28),
        PAIR(-436, -28), PAIR(-450, -30), PAIR(-459, -30), PAIR(-464, -26),
        PAIR(-480, -30), PAIR(-490, -30), PAIR(-500, -30), PAIR(-510, -30),
    },
    .pawn_attacks_minor = PAIR(51, 50),
    .pawn_attacks_rook = PAIR(56, 13),
    .pawn_attacks_queen = PAIR(35, 15),
    .minor_attacks_minor = PAIR(13, 25),
    .minor_attacks_rook = PAIR(45, 30),
    .minor_attacks_queen = PAIR(43, 31),
    .rook_attacks_queen = PAIR(58, 26),
    .rook_attacks_minor = PAIR(24, 19),
    .king_attacks_weak = PAIR(20, 15),
    .hanging = PAIR(14, 30),
    .knight_on_queen = PAIR(9, -7),
    .pawn_push_threat = PAIR(18, 7),
    .space = PAIR(2, -2),
    .tempo = PAIR(21, 18),
    .units = {
        .attacker = {0, 27, -9, -8, 36, 0},
        .zone_square = 6,
        .weak_square = 20,
        .check = {0, 56, 58, 73, 60, 0},
        .pinned = 13,
        .flank_attack = 1,
        .knight_near = -15,
        .no_queen = -72,
        .chance = 46,
        .chance_pawn = 12,
        .chance_one_wing = -19,
        .opposite_bishops = 13,
        .opposite_bishops_pawn = 5,
        .opposite_bishops_pieces = 39,
    },
};
