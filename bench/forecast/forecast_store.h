/* What a forecast is made from in an SQLite file of its own: for questions that the tables do not answer, and to join what was
 * counted in shares. A forecast reads such a file as the games and positions it was made from.
 *
 *     CREATE TABLE forecast_part (
 *         witness,  -- "game"; "line", "continuation": what searches say of positions, which stand here like games
 *         share, shares, games, skipped, plies);  -- one row for each run that is joined here
 *     CREATE TABLE forecast_game (id, witness, file, game, line, plies, result, white_rating, black_rating,
 *         start,    -- key of the start position in hexadecimal, null for the initial one
 *         hash,     -- of start and moves, in hexadecimal; the last bit says which half of the split
 *         opening); -- the first six plies, "e2e4 e7e6"; "--" for a null move
 *     CREATE TABLE forecast_row (id, game_id, moment, side, verdict, region, lever, first_lever, earlier_lever,
 *         own_king, other_king,             -- squares
 *         ply, first_ply,
 *         opening_plies,                    -- that make the row's stratum
 *         both_ways);                       -- 1: linked pawns of the side point to both wings
 *     CREATE TABLE forecast_choice (row_id, place, goal, steps, blockers, support);
 *     CREATE TABLE forecast_setting (nodes, plies, price_nodes, playouts, playout_nodes, seed);  -- one row at most
 *     CREATE TABLE forecast_price (file, line, position_key, side, verdict, grade, status, depth,
 *         named, named_score,  -- the lever, "f2f4", and centipawns (mate: 32000 less the plies) for the side to move
 *         lever, lever_score,  -- the best lever elsewhere, null without one
 *         other, other_score,  -- the best move that is no lever, likewise
 *         rival,               -- "lever" or "other": the better one of these
 *         named_points, rival_points);  -- half points, null if they were not played out */
#ifndef PAWNVANE_FORECAST_STORE_H
#define PAWNVANE_FORECAST_STORE_H

#include "bench/forecast/forecast_evidence.h"

/* Whether something stands at that path that begins like an SQLite file. */
bool forecast_is_store(const char *path);

/* Whether a forecast may be written there: nothing is there, an empty file, or a forecast. If not, that is reported. */
bool forecast_store_may_write(const char *path);

/* Replaces what is there, all or nothing. False on failure, which is reported; so below. */
bool forecast_store_write(const char *path, const ForecastEvidence *evidence);

/* Adds what a store holds. */
bool forecast_store_read(const char *path, ForecastEvidence *evidence);

#endif
