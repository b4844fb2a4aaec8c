#include "engine/search/agenda.h"

#include "engine/search/transposition.h"

static uint64_t key_of(const Agenda *agenda, Move move)
{
    return agenda->key ^ (move * UINT64_C(0x9E3779B97F4A7C15));
}

static bool holds(const Agenda *agenda, uint64_t key)
{
    return atomic_load_explicit(&agenda->shared->busy[key % BUSY_SLOTS], memory_order_relaxed) == key;
}

static void set_slot(Agenda *agenda, uint64_t key, uint64_t value)
{
    atomic_store_explicit(&agenda->shared->busy[key % BUSY_SLOTS], value, memory_order_relaxed);
}

void agenda_start(Agenda *agenda, SharedWork *shared, const Position *position, Move excluded)
{
    agenda->shared = shared;
    agenda->key = table_key(position) ^ (excluded * UINT64_C(0xD6E8FEB86659FD93));
    agenda->excluded = excluded;
    agenda->picked = agenda->deferred_count = agenda->deferred_next = 0;
}

Move agenda_next(Agenda *agenda, int *number)
{
    Move move;
    while ((move = picker_next(&agenda->picker)) != NO_MOVE) {
        if (move == agenda->excluded)
            continue;
        *number = ++agenda->picked;
        agenda->history = agenda->picker.history;
        if (*number == 1 || agenda->deferred_count == AGENDA_DEFERRED || !agenda_is_busy(agenda, move))
            return move;
        agenda->deferred[agenda->deferred_count].move = move;
        agenda->deferred[agenda->deferred_count].history = agenda->history;
        agenda->deferred[agenda->deferred_count++].number = *number;
    }
    if (agenda->deferred_next == agenda->deferred_count)
        return NO_MOVE;
    *number = agenda->deferred[agenda->deferred_next].number;
    agenda->history = agenda->deferred[agenda->deferred_next].history;
    return agenda->deferred[agenda->deferred_next++].move;
}

bool agenda_is_busy(const Agenda *agenda, Move move)
{
    return agenda->shared && holds(agenda, key_of(agenda, move));
}

void agenda_begin(Agenda *agenda, Move move)
{
    if (agenda->shared)
        set_slot(agenda, key_of(agenda, move), key_of(agenda, move));
}

void agenda_end(Agenda *agenda, Move move)
{
    if (agenda_is_busy(agenda, move))
        set_slot(agenda, key_of(agenda, move), 0);
}

/* The key's upper bits stand in the slot, its lower ones choose it. */
enum { REFUTED_KEY = 24 };

void agenda_refute(Agenda *agenda, Move move, int depth, int score)
{
    if (!agenda->shared || score_is_mate(score))
        return;
    uint64_t key = key_of(agenda, move);
    uint64_t data =
        (key >> REFUTED_KEY << REFUTED_KEY) | ((uint64_t)(uint8_t)depth << 16) | (uint16_t)(int16_t)score;
    atomic_store_explicit(&agenda->shared->refuted[key % REFUTED_SLOTS], data, memory_order_relaxed);
}

bool agenda_is_refuted(const Agenda *agenda, Move move, int depth, int *score)
{
    if (!agenda->shared)
        return false;
    uint64_t key = key_of(agenda, move);
    uint64_t data = atomic_load_explicit(&agenda->shared->refuted[key % REFUTED_SLOTS], memory_order_relaxed);
    if ((data ^ key) >> REFUTED_KEY || (uint8_t)(data >> 16) < depth)
        return false;
    *score = (int16_t)data;
    return true;
}
