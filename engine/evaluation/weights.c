/* clang-format off */
/* Tuned: written by
 *     pawnvane-bench fit --sample g801.epd g802.epd g803.epd g804.epd g805.epd g807.epd g808.epd n1.epd n2.epd n3.epd g3101.epd g3102.epd f23-own-1000.epd f23-own-1100.epd f23-own-1200.epd f23-own-1300.epd --every 1 --prior 50 --blend 0.7 --quiet --steps 300 --workers 2 --write wl.c
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
 *     pawnvane-bench fit --games 3000 --seed 3101 --nodes 2500 --sample g3101.epd --quiet --steps 4 --prior 5
 *     pawnvane-bench fit --games 3000 --seed 3102 --nodes 2500 --sample g3102.epd --quiet --steps 4 --prior 5
 *     pawnvane-bench fit --games 1200 --nodes 1000 --openings bench/openings/strata.epd --workers 1 --sample f23-own-1000.epd --steps 4 --every 50 --quiet
 *     pawnvane-bench fit --games 1200 --nodes 1100 --openings bench/openings/strata.epd --workers 1 --sample f23-own-1100.epd --steps 4 --every 50 --quiet
 *     pawnvane-bench fit --games 1200 --nodes 1200 --openings bench/openings/strata.epd --workers 1 --sample f23-own-1200.epd --steps 4 --every 50 --quiet
 *     pawnvane-bench fit --games 1200 --nodes 1300 --openings bench/openings/strata.epd --workers 1 --sample f23-own-1300.epd --steps 4 --every 50 --quiet
 * Mean log-loss on the 1360565 positions of the 19972 games fitted to: 0.55695 before, 0.55662 after;
 * on the 335991 positions of the 4938 games held out: 0.56873 before, 0.56840 after, standard error of the
 * change 0.00017. See bench/fit/fit.h. */
#include "engine/evaluation/weights.h"

const EvalWeights default_weights = {
    .material =
        {PAIR(5, 115),    PAIR(202, 356),  PAIR(197, 394),  PAIR(254, 681),  PAIR(735, 1128)},
    .placement =
        {
            {
                PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(-10, 11),   PAIR(5, 12),     PAIR(-4, 14),    PAIR(-12, 30),
                PAIR(-7, 4),     PAIR(-2, 1),     PAIR(-5, 5),     PAIR(-4, 8),     PAIR(-8, 16),    PAIR(-4, 12),    PAIR(5, 9),      PAIR(7, 0),
                PAIR(-7, 29),    PAIR(7, 19),     PAIR(11, 10),    PAIR(19, -2),    PAIR(13, 12),    PAIR(4, 23),     PAIR(19, 34),    PAIR(25, 8),
                PAIR(46, -20),   PAIR(1, 21),     PAIR(43, 30),    PAIR(40, 31),    PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),
            },
            {
                PAIR(-34, -38),  PAIR(-25, -28),  PAIR(-31, -9),   PAIR(-14, -17),  PAIR(-20, -23),  PAIR(-16, 8),    PAIR(-9, -32),   PAIR(-11, -7),
                PAIR(-23, -23),  PAIR(-4, -20),   PAIR(-8, -6),    PAIR(1, 1),      PAIR(0, -1),     PAIR(2, -4),     PAIR(10, 12),    PAIR(9, 13),
                PAIR(14, -14),   PAIR(-1, 9),     PAIR(10, 17),    PAIR(10, 29),    PAIR(-15, -2),   PAIR(-8, -3),    PAIR(-1, 9),     PAIR(-2, 16),
                PAIR(-30, -13),  PAIR(-25, -1),   PAIR(1, 0),      PAIR(-16, 13),   PAIR(-62, -56),  PAIR(-44, -18),  PAIR(-52, -26),  PAIR(-32, -5),
            },
            {
                PAIR(-6, -7),    PAIR(-31, 4),    PAIR(-15, -7),   PAIR(-3, -14),   PAIR(2, -17),    PAIR(12, -12),   PAIR(10, -20),   PAIR(-2, -3),
                PAIR(4, -7),     PAIR(14, 4),     PAIR(6, 8),      PAIR(5, 6),      PAIR(7, -24),    PAIR(-4, -1),    PAIR(6, 15),     PAIR(10, 16),
                PAIR(-6, 1),     PAIR(3, -1),     PAIR(7, 7),      PAIR(11, 21),    PAIR(-1, -4),    PAIR(-4, -2),    PAIR(-8, 19),    PAIR(14, 1),
                PAIR(-17, -4),   PAIR(-28, 5),    PAIR(-14, 5),    PAIR(-18, 13),   PAIR(-15, -7),   PAIR(-38, 5),    PAIR(-42, 3),    PAIR(-37, 2),
            },
            {
                PAIR(-11, -26),  PAIR(-8, -20),   PAIR(2, -22),    PAIR(6, -24),    PAIR(-35, -14),  PAIR(-6, -16),   PAIR(-8, -13),   PAIR(1, -24),
                PAIR(-18, -2),   PAIR(0, -1),     PAIR(-8, 0),     PAIR(-15, 3),    PAIR(-18, 20),   PAIR(-11, 18),   PAIR(-13, 16),   PAIR(-15, 15),
                PAIR(-13, 25),   PAIR(-7, 25),    PAIR(1, 20),     PAIR(-3, 19),    PAIR(-7, 25),    PAIR(8, 19),     PAIR(7, 18),     PAIR(10, 12),
                PAIR(1, 22),     PAIR(-14, 29),   PAIR(13, 19),    PAIR(9, 20),     PAIR(-7, 24),    PAIR(-22, 33),   PAIR(1, 20),     PAIR(-6, 22),
            },
            {
                PAIR(-5, -32),   PAIR(-4, -43),   PAIR(4, -46),    PAIR(4, -40),    PAIR(-10, -10),  PAIR(1, -32),    PAIR(10, -45),   PAIR(-2, -24),
                PAIR(-13, 8),    PAIR(-2, -16),   PAIR(-12, 10),   PAIR(-12, 8),    PAIR(-9, -1),    PAIR(-11, 19),   PAIR(-10, 31),   PAIR(-11, 22),
                PAIR(-7, 10),    PAIR(-18, 42),   PAIR(-12, 33),   PAIR(-16, 43),   PAIR(-17, 9),    PAIR(-7, 14),    PAIR(-10, 48),   PAIR(-6, 32),
                PAIR(-7, 10),    PAIR(-20, 25),   PAIR(-1, 19),    PAIR(-21, 32),   PAIR(-14, -15),  PAIR(-7, 6),     PAIR(-9, 12),    PAIR(-2, 3),
            },
            {
                PAIR(11, -39),   PAIR(7, -18),    PAIR(-28, -19),  PAIR(-26, -27),  PAIR(15, -22),   PAIR(-1, -14),   PAIR(-23, -5),   PAIR(-35, -6),
                PAIR(-21, -23),  PAIR(-1, -18),   PAIR(-18, -7),   PAIR(-52, 4),    PAIR(-32, -21),  PAIR(-29, -10),  PAIR(-52, 1),    PAIR(-72, 10),
                PAIR(-54, -9),   PAIR(-29, 6),    PAIR(-68, 21),   PAIR(-80, 20),   PAIR(-57, 8),    PAIR(-44, 28),   PAIR(-73, 35),   PAIR(-73, 25),
                PAIR(-35, -13),  PAIR(-32, 28),   PAIR(-62, 31),   PAIR(-75, 29),   PAIR(-61, -86),  PAIR(-30, 17),   PAIR(-50, 15),   PAIR(-79, 9),
            },
        },
    .activity =
        {
            {PAIR(-35, -16),  PAIR(-29, -51),  PAIR(-24, -9),   PAIR(-20, 2),    PAIR(-17, 6),    PAIR(-14, 13),   PAIR(-13, 18),   PAIR(-9, 12),    PAIR(-2, -1),    PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 0)},
            {PAIR(-21, -31),  PAIR(-15, -20),  PAIR(-7, -9),    PAIR(-4, 5),     PAIR(-1, 13),    PAIR(2, 19),     PAIR(1, 20),     PAIR(2, 18),     PAIR(3, 18),     PAIR(1, 14),     PAIR(8, 2),      PAIR(6, -7),     PAIR(0, -10),    PAIR(-20, -16),  PAIR(0, 0),      PAIR(0, 0)},
            {PAIR(-34, -82),  PAIR(-20, -38),  PAIR(-15, -15),  PAIR(-15, 6),    PAIR(-13, 15),   PAIR(-11, 22),   PAIR(-11, 29),   PAIR(-9, 31),    PAIR(-7, 34),    PAIR(-3, 36),    PAIR(-3, 41),    PAIR(2, 42),     PAIR(-1, 44),    PAIR(-1, 45),    PAIR(-46, 71),   PAIR(0, 0)},
            {PAIR(-22, -36),  PAIR(-19, -38),  PAIR(-15, -6),   PAIR(-12, 11),   PAIR(-11, 28),   PAIR(-11, 40),   PAIR(-6, 41),    PAIR(-1, 40),    PAIR(0, 43),     PAIR(4, 44),     PAIR(3, 44),     PAIR(11, 32),    PAIR(-7, 15),    PAIR(8, 40),     PAIR(0, 0),      PAIR(0, 0)},
        },
    .from_own_king =
        {
            {PAIR(3, 8),      PAIR(1, 5),      PAIR(0, -4),     PAIR(-6, -4),    PAIR(-6, -9),    PAIR(-7, -7),    PAIR(-8, -7)},
            {PAIR(3, 4),      PAIR(2, -2),     PAIR(-2, -1),    PAIR(-1, -6),    PAIR(-3, -5),    PAIR(-2, -10),   PAIR(-10, -1)},
            {PAIR(-6, 4),     PAIR(-7, 4),     PAIR(-3, -2),    PAIR(-1, -2),    PAIR(-1, -2),    PAIR(-1, -5),    PAIR(-1, -3)},
            {PAIR(-4, -17),   PAIR(-4, -3),    PAIR(-6, -2),    PAIR(-7, 0),     PAIR(-8, 6),     PAIR(-8, 3),     PAIR(-8, 7)},
        },
    .from_enemy_king =
        {
            {PAIR(-4, -5),    PAIR(1, -6),     PAIR(2, 1),      PAIR(-2, 3),     PAIR(-2, 1),     PAIR(-7, -3),    PAIR(-8, -6)},
            {PAIR(-13, -4),   PAIR(14, -7),    PAIR(-1, -2),    PAIR(-2, 0),     PAIR(-5, 2),     PAIR(-2, -3),    PAIR(1, -7)},
            {PAIR(-1, -2),    PAIR(-2, -9),    PAIR(1, -2),     PAIR(-4, 1),     PAIR(-3, 0),     PAIR(-5, 2),     PAIR(-5, 2)},
            {PAIR(0, 0),      PAIR(5, 0),      PAIR(0, 10),     PAIR(-5, 3),     PAIR(-9, -2),    PAIR(-14, -10),  PAIR(-22, -7)},
        },
    .with_pawns =
        {PAIR(6, 11),     PAIR(7, 6),      PAIR(8, 4),      PAIR(6, 15)},
    .with_rams =
        {PAIR(-2, 9),     PAIR(-3, 2),     PAIR(-1, -4),    PAIR(-10, 17)},
    .second =
        {PAIR(4, -14),    PAIR(10, 57),    PAIR(28, -25),   PAIR(-15, -5)},
    .on_file =
        {
            {PAIR(9, 11),     PAIR(0, 11),     PAIR(-10, 7),    PAIR(-17, 3)},
            {PAIR(-21, -4),   PAIR(-3, 10),    PAIR(-3, -6),    PAIR(1, -5)},
        },
    .bishop_on_pawns = PAIR(-4, -2),
    .bishop_on_rams = PAIR(-1, -1),
    .contest =
        {
            {
                {PAIR(-8, -14),   PAIR(-51, -75),  PAIR(-52, -82),  PAIR(-63, -50),  PAIR(-47, -43)},
                {PAIR(-12, -41),  PAIR(-21, -52),  PAIR(-40, -48),  PAIR(-57, -31),  PAIR(-34, -52)},
                {PAIR(-11, -42),  PAIR(-41, -59),  PAIR(-23, -60),  PAIR(-40, -43),  PAIR(-56, -61)},
                {PAIR(-4, -46),   PAIR(-33, -54),  PAIR(-37, -48),  PAIR(-11, -28),  PAIR(-55, -28)},
                {PAIR(-12, -19),  PAIR(-30, -31),  PAIR(-33, -35),  PAIR(-28, -35),  PAIR(-15, -30)},
                {PAIR(-23, -40),  PAIR(-44, -38),  PAIR(-45, -53),  PAIR(-34, -30),  PAIR(-34, -45)},
            },
            {
                {PAIR(6, -4),     PAIR(-52, -56),  PAIR(-50, -61),  PAIR(-52, -27),  PAIR(-46, -19)},
                {PAIR(4, -13),    PAIR(-13, -22),  PAIR(-28, -37),  PAIR(-50, -38),  PAIR(-38, -31)},
                {PAIR(0, -9),     PAIR(-15, -29),  PAIR(-9, -17),   PAIR(-49, -45),  PAIR(-45, -40)},
                {PAIR(3, -7),     PAIR(-12, -29),  PAIR(-15, -19),  PAIR(-2, 1),     PAIR(-60, -33)},
                {PAIR(1, -10),    PAIR(-4, -5),    PAIR(-3, -5),    PAIR(-3, -5),    PAIR(-2, 8)},
                {PAIR(12, -17),   PAIR(3, -25),    PAIR(-6, -11),   PAIR(-6, -1),    PAIR(0, 0)},
            },
            {
                {PAIR(-2, -9),    PAIR(-50, -63),  PAIR(-61, -75),  PAIR(-60, -20),  PAIR(-54, -16)},
                {PAIR(6, 5),      PAIR(-15, -19),  PAIR(-26, -25),  PAIR(-47, -32),  PAIR(-41, -30)},
                {PAIR(2, 11),     PAIR(-9, -14),   PAIR(-9, -15),   PAIR(-45, -38),  PAIR(-57, -35)},
                {PAIR(12, 5),     PAIR(2, 9),      PAIR(4, 11),     PAIR(3, 0),      PAIR(-63, -30)},
                {PAIR(4, -4),     PAIR(5, 4),      PAIR(4, 11),     PAIR(4, 1),      PAIR(-6, -10)},
                {PAIR(-9, 10),    PAIR(4, 1),      PAIR(4, 6),      PAIR(6, -4),     PAIR(0, 0)},
            },
        },
    .pawn_step = PAIR(-11, -15),
    .pawn =
        {
            {
                {PAIR(-11, -18),  PAIR(-5, -12),   PAIR(-8, -14),   PAIR(1, -10),    PAIR(25, -2),    PAIR(29, -55)},
                {PAIR(-1, -12),   PAIR(-5, -7),    PAIR(-3, 5),     PAIR(-3, -2),    PAIR(-8, 1),     PAIR(-6, -3)},
                {PAIR(0, 0),      PAIR(0, 0),      PAIR(3, -10),    PAIR(1, 5),      PAIR(8, 24),     PAIR(-19, -5)},
                {PAIR(6, -15),    PAIR(5, 3),      PAIR(7, 8),      PAIR(23, 29),    PAIR(51, 56),    PAIR(57, 68)},
                {PAIR(0, 0),      PAIR(16, 4),     PAIR(11, 8),     PAIR(21, 24),    PAIR(59, 59),    PAIR(126, 49)},
            },
            {
                {PAIR(15, -9),    PAIR(0, -1),     PAIR(4, -8),     PAIR(0, -11),    PAIR(7, -14),    PAIR(4, -11)},
                {PAIR(12, 0),     PAIR(3, -7),     PAIR(0, 2),      PAIR(-3, 4),     PAIR(-1, -5),    PAIR(-1, 2)},
                {PAIR(0, 0),      PAIR(0, 0),      PAIR(1, 10),     PAIR(-8, 3),     PAIR(2, -4),     PAIR(0, 0)},
                {PAIR(-12, -1),   PAIR(-3, -12),   PAIR(2, 14),     PAIR(15, 32),    PAIR(45, 59),    PAIR(56, 64)},
                {PAIR(0, 0),      PAIR(15, 12),    PAIR(8, 11),     PAIR(1, 12),     PAIR(5, 44),     PAIR(110, 58)},
            },
            {
                {PAIR(0, -7),     PAIR(1, -5),     PAIR(-9, -6),    PAIR(-4, -12),   PAIR(4, -11),    PAIR(4, -11)},
                {PAIR(2, 5),      PAIR(4, 4),      PAIR(-2, -9),    PAIR(-1, 2),     PAIR(-1, 2),     PAIR(-1, 2)},
                {PAIR(0, 0),      PAIR(0, 0),      PAIR(0, 1),      PAIR(4, -5),     PAIR(0, 0),      PAIR(0, 0)},
                {PAIR(6, 2),      PAIR(9, 5),      PAIR(6, 11),     PAIR(8, 23),     PAIR(42, 55),    PAIR(56, 64)},
                {PAIR(0, 0),      PAIR(13, 17),    PAIR(5, 13),     PAIR(14, 28),    PAIR(30, 44),    PAIR(110, 58)},
            },
            {
                {PAIR(-11, -27),  PAIR(-5, -32),   PAIR(-9, -24),   PAIR(0, -25),    PAIR(-4, -58),   PAIR(-1, -30)},
                {PAIR(-11, -16),  PAIR(-10, -30),  PAIR(-3, 6),     PAIR(-7, -16),   PAIR(-6, -16),   PAIR(-6, -16)},
                {PAIR(-5, -19),   PAIR(-5, -19),   PAIR(-6, -15),   PAIR(-11, -25),  PAIR(-6, -19),   PAIR(-5, -19)},
                {PAIR(-4, -11),   PAIR(-6, -14),   PAIR(-1, 5),     PAIR(4, 15),     PAIR(37, 36),    PAIR(51, 45)},
                {PAIR(-5, -19),   PAIR(-2, 20),    PAIR(-6, -1),    PAIR(12, 10),    PAIR(25, 26),    PAIR(105, 39)},
            },
        },
    .passed =
        {
            {PAIR(4, 42),     PAIR(7, 33),     PAIR(-33, 63),   PAIR(-29, 67),   PAIR(42, 43),    PAIR(100, 59)},
            {PAIR(11, 40),    PAIR(-3, 35),    PAIR(-39, 71),   PAIR(-37, 85),   PAIR(48, 83),    PAIR(97, 125)},
            {PAIR(-6, 41),    PAIR(8, 26),     PAIR(-29, 59),   PAIR(-23, 72),   PAIR(48, 53),    PAIR(167, 99)},
            {PAIR(2, 52),     PAIR(4, 41),     PAIR(-33, 76),   PAIR(-28, 95),   PAIR(79, 73),    PAIR(196, 203)},
            {PAIR(-2, 39),    PAIR(11, 29),    PAIR(-25, 68),   PAIR(-21, 89),   PAIR(59, 93),    PAIR(165, 125)},
            {PAIR(6, 45),     PAIR(2, 38),     PAIR(-19, 68),   PAIR(-19, 98),   PAIR(85, 105),   PAIR(195, 233)},
            {PAIR(-25, 60),   PAIR(-23, 47),   PAIR(-70, 93),   PAIR(-64, 134),  PAIR(55, 139),   PAIR(190, 216)},
            {PAIR(-17, 55),   PAIR(-37, 51),   PAIR(-67, 99),   PAIR(-61, 137),  PAIR(81, 162),   PAIR(207, 303)},
        },
    .passed_own_king =
        {PAIR(0, -5),     PAIR(4, -6),     PAIR(9, -14),    PAIR(7, -20),    PAIR(-8, -20),   PAIR(-9, -23)},
    .passed_enemy_king =
        {PAIR(0, -1),     PAIR(-6, 3),     PAIR(-3, 9),     PAIR(-1, 19),    PAIR(-4, 38),    PAIR(-8, 60)},
    .passed_rook =
        {PAIR(4, 16),     PAIR(4, -51)},
    .passed_unstoppable = PAIR(0, 175),
    .seen =
        {
            {
                {PAIR(-1, 22),    PAIR(12, 14),    PAIR(30, -8),    PAIR(32, 5),     PAIR(24, -2),    PAIR(20, -18),   PAIR(3, 1),      PAIR(1, 14)},
                {PAIR(3, 23),     PAIR(9, 14),     PAIR(28, 1),     PAIR(27, -5),    PAIR(14, -4),    PAIR(17, -16),   PAIR(5, -2),     PAIR(4, 26)},
                {PAIR(-2, 8),     PAIR(-3, 8),     PAIR(7, 1),      PAIR(7, -5),     PAIR(11, -15),   PAIR(9, -23),    PAIR(3, -15),    PAIR(2, 6)},
                {PAIR(-8, 8),     PAIR(-3, 0),     PAIR(-10, -4),   PAIR(-1, -9),    PAIR(-1, -15),   PAIR(6, -18),    PAIR(7, -14),    PAIR(7, 0)},
            },
            {
                {PAIR(-4, -8),    PAIR(4, 24),     PAIR(0, 0),      PAIR(21, 10),    PAIR(-3, 18),    PAIR(5, 9),      PAIR(6, 2),      PAIR(8, 0)},
                {PAIR(6, 12),     PAIR(8, 22),     PAIR(-10, 26),   PAIR(21, 54),    PAIR(-16, 11),   PAIR(2, 10),     PAIR(4, 8),      PAIR(6, 7)},
                {PAIR(4, -5),     PAIR(-1, -3),    PAIR(-7, 12),    PAIR(-14, 16),   PAIR(-5, 5),     PAIR(3, 10),     PAIR(3, 12),     PAIR(4, 12)},
                {PAIR(-8, -22),   PAIR(-9, -7),    PAIR(8, -9),     PAIR(9, -5),     PAIR(6, -3),     PAIR(6, 0),      PAIR(4, 4),      PAIR(2, 7)},
            },
            {
                {PAIR(1, 5),      PAIR(4, 13),     PAIR(0, 0),      PAIR(31, 37),    PAIR(7, -17),    PAIR(7, -2),     PAIR(4, -1),     PAIR(21, -36)},
                {PAIR(0, 8),      PAIR(6, 14),     PAIR(11, 18),    PAIR(31, 37),    PAIR(1, -11),    PAIR(6, 1),      PAIR(3, 3),      PAIR(18, -25)},
                {PAIR(3, 8),      PAIR(4, 18),     PAIR(4, 10),     PAIR(8, 5),      PAIR(-11, 2),    PAIR(-2, 8),     PAIR(-3, 5),     PAIR(4, -6)},
                {PAIR(-1, -13),   PAIR(3, -10),    PAIR(3, -11),    PAIR(3, -3),     PAIR(-2, -2),    PAIR(-6, 0),     PAIR(-8, 2),     PAIR(-5, -9)},
            },
        },
    .siege =
        {
            PAIR(-45, 67),   PAIR(-43, 54),   PAIR(-44, 36),   PAIR(-48, 19),   PAIR(-50, -2),   PAIR(-54, -14),  PAIR(-62, -25),  PAIR(-62, -51),
            PAIR(-75, -51),  PAIR(-86, -54),  PAIR(-93, -55),  PAIR(-110, -59), PAIR(-124, -30), PAIR(-136, -39), PAIR(-155, -41), PAIR(-169, -22),
            PAIR(-189, -12), PAIR(-223, -2),  PAIR(-259, 2),   PAIR(-284, -2),  PAIR(-335, -6),  PAIR(-369, -11), PAIR(-403, -18), PAIR(-418, -28),
            PAIR(-436, -28), PAIR(-450, -30), PAIR(-459, -30), PAIR(-464, -26), PAIR(-480, -30), PAIR(-490, -30), PAIR(-500, -30), PAIR(-510, -30),
        },
    .tempo = PAIR(20, 20),
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
