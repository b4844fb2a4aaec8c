/* clang-format off */
/* Tuned: written by
 *     pawnvane-bench fit --sample g801.epd g802.epd g803.epd g804.epd g805.epd g807.epd g808.epd n1.epd n2.epd n3.epd --every 4 --prior 15 --blend 0.3 --quiet --steps 80 --write w9.c
 * on the sample of
 *     pawnvane-bench fit --games 1500 --seed 801 --nodes 1000 --sample g801.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 802 --nodes 1000 --sample g802.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 803 --nodes 1000 --sample g803.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 804 --nodes 1000 --sample g804.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 805 --nodes 1000 --sample g805.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 807 --nodes 1000 --sample g807.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 808 --nodes 1000 --sample g808.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 901 --nodes 1000 --sample n1.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 902 --nodes 1000 --sample n2.epd --quiet --steps 4
 *     pawnvane-bench fit --games 1500 --seed 903 --nodes 1000 --sample n3.epd --quiet --steps 4
 * Mean log-loss on the 206767 positions of the 12056 games fitted to: 0.55759 before, 0.55603 after;
 * on the 49444 positions of the 2936 games held out: 0.56996 before, 0.56852 after, standard error of the
 * change 0.00038. See bench/fit/fit.h. */
#include "engine/evaluation/weights.h"

const EvalWeights default_weights = {
    .material =
        {PAIR(13, 118),   PAIR(217, 366),  PAIR(203, 422),  PAIR(301, 689),  PAIR(816, 1135)},
    .placement =
        {
            {
                PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(-13, 18),   PAIR(5, 16),     PAIR(-2, 17),    PAIR(-8, 33),
                PAIR(-6, 9),     PAIR(0, 0),      PAIR(-1, 0),     PAIR(1, 8),      PAIR(-8, 19),    PAIR(-3, 2),     PAIR(8, 8),      PAIR(12, -8),
                PAIR(-13, 33),   PAIR(4, 18),     PAIR(9, 6),      PAIR(23, -9),    PAIR(-2, 13),    PAIR(-1, 14),    PAIR(27, 25),    PAIR(25, 3),
                PAIR(34, 18),    PAIR(16, 22),    PAIR(50, 30),    PAIR(30, 28),    PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),
            },
            {
                PAIR(-33, -44),  PAIR(-30, -37),  PAIR(-37, -8),   PAIR(-16, -8),   PAIR(-23, -3),   PAIR(-20, 13),   PAIR(-10, -28),  PAIR(-10, -4),
                PAIR(-24, -33),  PAIR(3, -26),    PAIR(-4, 1),     PAIR(7, 20),     PAIR(-5, 2),     PAIR(7, -10),    PAIR(16, 17),    PAIR(20, 23),
                PAIR(23, -27),   PAIR(-4, 10),    PAIR(13, 26),    PAIR(13, 40),    PAIR(-23, -2),   PAIR(-2, 4),     PAIR(8, -1),     PAIR(5, 18),
                PAIR(-35, -25),  PAIR(-42, -13),  PAIR(2, 4),      PAIR(1, 22),     PAIR(-45, -46),  PAIR(-46, -23),  PAIR(-49, -40),  PAIR(-36, -16),
            },
            {
                PAIR(-10, -17),  PAIR(-45, 19),   PAIR(-8, -10),   PAIR(-1, -15),   PAIR(-13, -17),  PAIR(13, -9),    PAIR(11, -12),   PAIR(-3, 1),
                PAIR(4, 4),      PAIR(7, 13),     PAIR(3, 13),     PAIR(3, 15),     PAIR(12, -22),   PAIR(-12, -1),   PAIR(8, 17),     PAIR(18, 21),
                PAIR(-11, -1),   PAIR(5, -4),     PAIR(4, 8),      PAIR(17, 17),    PAIR(-1, 2),     PAIR(4, -9),     PAIR(3, 4),      PAIR(18, 0),
                PAIR(-27, 1),    PAIR(-38, -1),   PAIR(9, 8),      PAIR(-14, 17),   PAIR(-23, -7),   PAIR(-32, 18),   PAIR(-39, 2),    PAIR(-23, 7),
            },
            {
                PAIR(-6, -25),   PAIR(-4, -17),   PAIR(4, -20),    PAIR(9, -18),    PAIR(-38, -14),  PAIR(-6, -18),   PAIR(-4, -14),   PAIR(5, -20),
                PAIR(-12, -10),  PAIR(7, 5),      PAIR(-5, 6),     PAIR(-17, 9),    PAIR(-16, 25),   PAIR(-9, 23),    PAIR(-12, 12),   PAIR(-6, 14),
                PAIR(-16, 28),   PAIR(-15, 34),   PAIR(10, 15),    PAIR(-14, 24),   PAIR(-16, 34),   PAIR(14, 18),    PAIR(20, 11),    PAIR(8, 8),
                PAIR(-7, 20),    PAIR(-12, 23),   PAIR(27, 5),     PAIR(15, 11),    PAIR(-4, 31),    PAIR(-31, 31),   PAIR(2, 16),     PAIR(-8, 20),
            },
            {
                PAIR(-4, -30),   PAIR(-7, -34),   PAIR(5, -34),    PAIR(1, -43),    PAIR(-16, -6),   PAIR(-3, -12),   PAIR(20, -64),   PAIR(0, -30),
                PAIR(-10, 14),   PAIR(2, -22),    PAIR(-14, 7),    PAIR(-7, 5),     PAIR(0, 12),     PAIR(-7, 11),    PAIR(-1, 37),    PAIR(-5, 14),
                PAIR(-2, 3),     PAIR(-28, 51),   PAIR(-8, 35),    PAIR(-15, 31),   PAIR(-9, 0),     PAIR(-10, 13),   PAIR(-16, 59),   PAIR(-6, 24),
                PAIR(2, 20),     PAIR(-15, 31),   PAIR(4, 22),     PAIR(-13, 26),   PAIR(-12, -22),  PAIR(-5, 1),     PAIR(-5, 17),    PAIR(10, 2),
            },
            {
                PAIR(31, -78),   PAIR(16, -47),   PAIR(-27, -43),  PAIR(-16, -49),  PAIR(15, -31),   PAIR(-2, -30),   PAIR(-23, -8),   PAIR(-29, -10),
                PAIR(-38, -22),  PAIR(-1, -21),   PAIR(-32, 4),    PAIR(-30, 7),    PAIR(-42, -27),  PAIR(-35, -5),   PAIR(-55, 10),   PAIR(-66, 25),
                PAIR(-56, -14),  PAIR(-34, 17),   PAIR(-65, 36),   PAIR(-78, 33),   PAIR(-59, 8),    PAIR(-49, 37),   PAIR(-72, 52),   PAIR(-66, 48),
                PAIR(-39, -4),   PAIR(-36, 26),   PAIR(-66, 32),   PAIR(-80, 37),   PAIR(-61, -91),  PAIR(-29, 26),   PAIR(-57, 16),   PAIR(-81, 18),
            },
        },
    .activity =
        {
            {PAIR(-38, -14),  PAIR(-24, -51),  PAIR(-16, -2),   PAIR(-11, 7),    PAIR(-9, 8),     PAIR(-7, 16),    PAIR(-7, 23),    PAIR(-5, 13),    PAIR(4, -2),     PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0)},
            {PAIR(-27, -28),  PAIR(-20, -23),  PAIR(-9, -5),    PAIR(-2, 3),     PAIR(0, 11),     PAIR(5, 21),     PAIR(3, 20),     PAIR(1, 16),     PAIR(5, 22),     PAIR(2, 12),     PAIR(3, 10),     PAIR(19, -12),   PAIR(2, 23),     PAIR(-5, -1),    PAIR(0, 0),      PAIR(0, 0)},
            {PAIR(-45, -87),  PAIR(-18, -37),  PAIR(-12, -21),  PAIR(-12, -2),   PAIR(-10, 8),    PAIR(-7, 24),    PAIR(-10, 33),   PAIR(-7, 35),    PAIR(-7, 40),    PAIR(-3, 39),    PAIR(-2, 44),    PAIR(9, 41),     PAIR(-3, 49),    PAIR(7, 52),     PAIR(-18, 70),   PAIR(0, 0)},
            {PAIR(-17, -33),  PAIR(-13, -33),  PAIR(-6, -16),   PAIR(-4, -5),    PAIR(-2, 25),    PAIR(-4, 36),    PAIR(4, 39),     PAIR(8, 48),     PAIR(1, 57),     PAIR(16, 58),    PAIR(8, 48),     PAIR(8, 27),     PAIR(-8, 12),    PAIR(10, 43),    PAIR(0, 0),      PAIR(0, 0)},
            {PAIR(1, -1),     PAIR(1, -2),     PAIR(3, 2),      PAIR(3, 7),      PAIR(2, 5),      PAIR(1, -1),     PAIR(-3, 4),     PAIR(1, -1),     PAIR(-9, -14),   PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0)},
        },
    .with_pawns =
        {PAIR(6, 8),      PAIR(10, -1),    PAIR(6, 3),      PAIR(5, 18)},
    .with_rams =
        {PAIR(2, 7),      PAIR(1, 4),      PAIR(2, -5),     PAIR(7, 9)},
    .second =
        {PAIR(1, -4),     PAIR(14, 59),    PAIR(-4, -8),    PAIR(0, 0)},
    .footing =
        {
            {PAIR(-2, 4),     PAIR(-6, -5),    PAIR(-5, 5),     PAIR(0, 3)},
            {PAIR(-6, 1),     PAIR(4, -2),     PAIR(-2, 2),     PAIR(5, 5)},
        },
    .on_file =
        {
            {PAIR(20, 16),    PAIR(9, 15),     PAIR(2, 11),     PAIR(-5, -1)},
            {PAIR(-10, 0),    PAIR(3, 7),      PAIR(-1, -4),    PAIR(-1, -2)},
            {PAIR(-27, -5),   PAIR(4, 3),      PAIR(-8, 1),     PAIR(3, -3)},
        },
    .bishop_on_pawns = PAIR(-5, 0),
    .bishop_on_rams = PAIR(0, -3),
    .contest =
        {
            {
                {PAIR(-11, -21),  PAIR(-61, -80),  PAIR(-56, -78),  PAIR(-70, -43),  PAIR(-49, -45)},
                {PAIR(-13, -36),  PAIR(-23, -55),  PAIR(-27, -54),  PAIR(-55, -53),  PAIR(-50, -61)},
                {PAIR(-15, -38),  PAIR(-36, -55),  PAIR(-29, -55),  PAIR(-52, -56),  PAIR(-57, -61)},
                {PAIR(-5, -43),   PAIR(-38, -51),  PAIR(-41, -50),  PAIR(-14, -30),  PAIR(-65, -51)},
                {PAIR(-10, -26),  PAIR(-27, -31),  PAIR(-22, -30),  PAIR(-19, -33),  PAIR(-12, -30)},
                {PAIR(-31, -45),  PAIR(-35, -44),  PAIR(-34, -45),  PAIR(-34, -41),  PAIR(-34, -45)},
            },
            {
                {PAIR(2, 0),      PAIR(-54, -50),  PAIR(-50, -50),  PAIR(-56, -13),  PAIR(-36, -15)},
                {PAIR(4, -10),    PAIR(-8, -25),   PAIR(-30, -29),  PAIR(-45, -30),  PAIR(-43, -31)},
                {PAIR(-1, -9),    PAIR(-16, -19),  PAIR(-5, -25),   PAIR(-49, -30),  PAIR(-47, -31)},
                {PAIR(-1, -7),    PAIR(-18, -29),  PAIR(-14, -16),  PAIR(-1, 0),     PAIR(-58, -26)},
                {PAIR(0, -12),    PAIR(-9, -1),    PAIR(0, 1),      PAIR(-5, -1),    PAIR(-1, 0)},
                {PAIR(-4, -8),    PAIR(-1, -4),    PAIR(0, 0),      PAIR(-1, -2),    PAIR(0, 0)},
            },
            {
                {PAIR(-6, -7),    PAIR(-54, -50),  PAIR(-60, -57),  PAIR(-56, -13),  PAIR(-42, -15)},
                {PAIR(7, 2),      PAIR(-10, -4),   PAIR(-18, -7),   PAIR(-45, -30),  PAIR(-44, -31)},
                {PAIR(2, 14),     PAIR(-7, -1),    PAIR(-6, -1),    PAIR(-45, -30),  PAIR(-45, -31)},
                {PAIR(16, 3),     PAIR(0, 7),      PAIR(4, 3),      PAIR(1, 0),      PAIR(-58, -26)},
                {PAIR(1, -2),     PAIR(4, 0),      PAIR(0, 0),      PAIR(3, 0),      PAIR(-6, 0)},
                {PAIR(0, 0),      PAIR(0, 3),      PAIR(0, 0),      PAIR(0, 1),      PAIR(0, 0)},
            },
        },
    .pawn_step = PAIR(-13, -12),
    .pawn =
        {
            {
                {PAIR(-15, -18),  PAIR(-1, -12),   PAIR(-12, -10),  PAIR(1, -15),    PAIR(10, -13),   PAIR(2, -30)},
                {PAIR(-5, -8),    PAIR(-4, -9),    PAIR(2, 10),     PAIR(-10, -7),   PAIR(-6, -3),    PAIR(-6, -3)},
                {PAIR(0, 0),      PAIR(0, 0),      PAIR(-2, -5),    PAIR(-8, 4),     PAIR(-1, 5),     PAIR(-8, 1)},
                {PAIR(3, -8),     PAIR(9, 1),      PAIR(6, 11),     PAIR(14, 33),    PAIR(42, 52),    PAIR(56, 64)},
                {PAIR(0, 0),      PAIR(14, 3),     PAIR(9, 12),     PAIR(25, 29),    PAIR(67, 50),    PAIR(143, 57)},
            },
            {
                {PAIR(12, -4),    PAIR(3, 1),      PAIR(2, -8),     PAIR(10, -16),   PAIR(3, -17),    PAIR(4, -11)},
                {PAIR(7, -1),     PAIR(5, -5),     PAIR(-1, 1),     PAIR(-5, -1),    PAIR(-1, -2),    PAIR(-1, 2)},
                {PAIR(0, 0),      PAIR(0, 0),      PAIR(3, 5),      PAIR(-4, 8),     PAIR(0, -2),     PAIR(0, 0)},
                {PAIR(0, 0),      PAIR(-5, 1),     PAIR(0, 15),     PAIR(12, 30),    PAIR(42, 55),    PAIR(56, 64)},
                {PAIR(0, 0),      PAIR(18, 19),    PAIR(9, 9),      PAIR(8, 17),     PAIR(18, 51),    PAIR(110, 58)},
            },
            {
                {PAIR(2, -12),    PAIR(2, -3),     PAIR(-10, -2),   PAIR(-10, -13),  PAIR(4, -11),    PAIR(4, -11)},
                {PAIR(2, 9),      PAIR(6, 6),      PAIR(-6, -12),   PAIR(-1, 2),     PAIR(-1, 2),     PAIR(-1, 2)},
                {PAIR(0, 0),      PAIR(0, 0),      PAIR(1, -3),     PAIR(1, -9),     PAIR(0, 0),      PAIR(0, 0)},
                {PAIR(7, 4),      PAIR(10, 6),     PAIR(5, 19),     PAIR(13, 31),    PAIR(42, 55),    PAIR(56, 64)},
                {PAIR(0, 0),      PAIR(16, 12),    PAIR(5, 14),     PAIR(16, 26),    PAIR(30, 44),    PAIR(110, 58)},
            },
            {
                {PAIR(-15, -22),  PAIR(-10, -34),  PAIR(5, -29),    PAIR(-1, -30),   PAIR(-1, -37),   PAIR(-1, -30)},
                {PAIR(-13, -18),  PAIR(-21, -39),  PAIR(0, -12),    PAIR(-6, -16),   PAIR(-6, -16),   PAIR(-6, -16)},
                {PAIR(-5, -19),   PAIR(-5, -19),   PAIR(-5, -19),   PAIR(-5, -19),   PAIR(-5, -19),   PAIR(-5, -19)},
                {PAIR(-2, -13),   PAIR(-3, -11),   PAIR(3, -1),     PAIR(3, 11),     PAIR(37, 36),    PAIR(51, 45)},
                {PAIR(-5, -19),   PAIR(4, 9),      PAIR(-1, -5),    PAIR(9, 7),      PAIR(25, 26),    PAIR(105, 39)},
            },
        },
    .passed =
        {
            {PAIR(7, 31),     PAIR(6, 37),     PAIR(-26, 73),   PAIR(-30, 82),   PAIR(30, 58),    PAIR(85, 66)},
            {PAIR(9, 33),     PAIR(0, 40),     PAIR(-32, 81),   PAIR(-20, 83),   PAIR(40, 69),    PAIR(88, 82)},
            {PAIR(-4, 45),    PAIR(12, 29),    PAIR(-23, 71),   PAIR(-32, 85),   PAIR(47, 62),    PAIR(165, 124)},
            {PAIR(0, 51),     PAIR(7, 43),     PAIR(-22, 86),   PAIR(-22, 97),   PAIR(79, 75),    PAIR(195, 229)},
            {PAIR(-3, 40),    PAIR(16, 30),    PAIR(-27, 79),   PAIR(-25, 94),   PAIR(53, 78),    PAIR(165, 125)},
            {PAIR(4, 51),     PAIR(4, 40),     PAIR(-22, 79),   PAIR(-13, 106),  PAIR(81, 93),    PAIR(195, 233)},
            {PAIR(-18, 68),   PAIR(-26, 52),   PAIR(-62, 103),  PAIR(-67, 146),  PAIR(68, 153),   PAIR(196, 217)},
            {PAIR(-12, 74),   PAIR(-36, 58),   PAIR(-60, 117),  PAIR(-58, 151),  PAIR(101, 168),  PAIR(226, 322)},
        },
    .passed_own_king =
        {PAIR(0, -6),     PAIR(3, -4),     PAIR(8, -15),    PAIR(6, -19),    PAIR(-6, -18),   PAIR(-10, -19)},
    .passed_enemy_king =
        {PAIR(3, -2),     PAIR(-6, 1),     PAIR(-3, 8),     PAIR(3, 16),     PAIR(-2, 40),    PAIR(0, 46)},
    .passed_rook =
        {PAIR(4, 13),     PAIR(-8, -46)},
    .passed_unstoppable = PAIR(0, 192),
    .seen =
        {
            {
                {PAIR(0, 8),      PAIR(7, 7),      PAIR(30, -8),    PAIR(37, -4),    PAIR(25, -6),    PAIR(17, -8),    PAIR(8, 5),      PAIR(5, 11)},
                {PAIR(1, 15),     PAIR(9, 9),      PAIR(28, -3),    PAIR(29, -8),    PAIR(11, 3),     PAIR(14, -5),    PAIR(9, 6),      PAIR(13, 18)},
                {PAIR(2, 14),     PAIR(0, 1),      PAIR(12, -2),    PAIR(11, -6),    PAIR(11, -14),   PAIR(8, -14),    PAIR(1, -11),    PAIR(2, 2)},
                {PAIR(-3, 4),     PAIR(5, -4),     PAIR(-10, -6),   PAIR(0, -9),     PAIR(-6, -9),    PAIR(1, -4),     PAIR(6, -3),     PAIR(4, 6)},
            },
            {
                {PAIR(0, -4),     PAIR(0, 7),      PAIR(0, 0),      PAIR(15, 27),    PAIR(-19, 33),   PAIR(2, 17),     PAIR(3, -1),     PAIR(8, 2)},
                {PAIR(0, 0),      PAIR(0, 9),      PAIR(2, 15),     PAIR(21, 54),    PAIR(-26, 15),   PAIR(3, 11),     PAIR(8, 10),     PAIR(12, 4)},
                {PAIR(0, -1),     PAIR(0, -1),     PAIR(0, 5),      PAIR(-4, 6),     PAIR(-10, 9),    PAIR(-1, 9),     PAIR(4, 13),     PAIR(10, 11)},
                {PAIR(-7, -12),   PAIR(-6, -4),    PAIR(2, -8),     PAIR(6, -5),     PAIR(3, -4),     PAIR(6, 1),      PAIR(7, 4),      PAIR(7, 4)},
            },
            {
                {PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(31, 37),    PAIR(-3, 2),     PAIR(8, -1),     PAIR(10, -12),   PAIR(14, -27)},
                {PAIR(0, 4),      PAIR(0, 4),      PAIR(3, 9),      PAIR(31, 37),    PAIR(-8, 3),     PAIR(14, 9),     PAIR(9, -6),     PAIR(16, -20)},
                {PAIR(0, 6),      PAIR(0, 8),      PAIR(0, 0),      PAIR(9, 8),      PAIR(-12, 1),    PAIR(6, 7),      PAIR(7, 0),      PAIR(15, -3)},
                {PAIR(0, 3),      PAIR(0, -5),     PAIR(0, -2),     PAIR(0, 0),      PAIR(3, -1),     PAIR(-1, -2),    PAIR(-3, -4),    PAIR(-5, -8)},
            },
        },
    .siege =
        {
            PAIR(-27, 40),   PAIR(-20, 23),   PAIR(-25, 4),    PAIR(-34, -9),   PAIR(-38, -18),  PAIR(-42, -21),  PAIR(-56, -32),  PAIR(-63, -34),
            PAIR(-80, -20),  PAIR(-90, -21),  PAIR(-99, -23),  PAIR(-100, -35), PAIR(-131, -15), PAIR(-143, -28), PAIR(-162, -38), PAIR(-177, -21),
            PAIR(-207, -13), PAIR(-235, -5),  PAIR(-273, -2),  PAIR(-297, -5),  PAIR(-339, -7),  PAIR(-372, -11), PAIR(-406, -19), PAIR(-418, -28),
            PAIR(-436, -28), PAIR(-450, -30), PAIR(-459, -30), PAIR(-464, -26), PAIR(-480, -30), PAIR(-490, -30), PAIR(-500, -30), PAIR(-510, -30),
        },
    .tempo = PAIR(15, 21),
    .units = {
        .bearing = {0, 43, 7, 16, 4, 0},
        .siege = -16,
        .lost = 20,
        .outnumbered = 24,
        .contested = 8,
        .entry = {0, 80, 58, 113, 80, 0},
        .force = 0,
        .force_of = {0, 4, 4, 6, 36, 0},
        .chance = 38,
        .chance_pawn = 16,
        .chance_one_wing = -19,
        .opposite_bishops = 17,
        .opposite_bishops_pawn = 5,
        .opposite_bishops_pieces = 39,
    },
};
