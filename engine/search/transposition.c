#include "engine/search/transposition.h"

#include "engine/search/memory.h"

#include <string.h>

/* The second word of a slot: move (16), score (16), static score (16), depth (8), age (6), bound (2). */
static uint64_t pack(const TableEntry *e, uint8_t age)
{
    return (uint64_t)e->move | ((uint64_t)(uint16_t)(int16_t)e->score << 16) |
           ((uint64_t)(uint16_t)(int16_t)e->static_score << 32) |
           ((uint64_t)(uint8_t)(int8_t)e->depth << 48) | ((uint64_t)age << 56) | ((uint64_t)e->bound << 62);
}

static TableEntry unpack(uint64_t data)
{
    return (TableEntry){.move = (Move)data,
                        .score = (int16_t)(data >> 16),
                        .static_score = (int16_t)(data >> 32),
                        .depth = (int8_t)(data >> 48),
                        .bound = (Bound)(data >> 62)};
}

static int packed_depth(uint64_t data)
{
    return (int8_t)(data >> 48);
}

static int packed_age(uint64_t data)
{
    return (int)(data >> 56) & (TABLE_AGES - 1);
}

static size_t size_of(const TranspositionTable *table)
{
    return table->buckets * TABLE_BUCKET * sizeof *table->slots;
}

bool table_create(TranspositionTable *table, size_t mib)
{
    size_t bytes = mib << 20;
    if (mib == 0 || bytes >> 20 != mib)
        return false;
    TableSlot *slots = memory_map(bytes);
    if (!slots)
        return false;
    *table = (TranspositionTable){.slots = slots, .buckets = bytes / (TABLE_BUCKET * sizeof *slots)};
    return true;
}

void table_destroy(TranspositionTable *table)
{
    memory_unmap(table->slots, size_of(table));
    *table = (TranspositionTable){.slots = NULL};
}

/* From this size on, in bytes, pages are given back and taken anew; below it, to write zeros costs less (with
 * 64 MiB the other way took 5 % off the nodes a second of searches of 500,000 nodes). */
enum { LARGE = 256 << 20 };

void table_touch(TranspositionTable *table)
{
    enum { PAGE = 4096 / sizeof *table->slots };
    for (size_t i = 0; !table->touched && i < table->buckets * TABLE_BUCKET; i += PAGE)
        atomic_fetch_or_explicit(&table->slots[i].data, 0, memory_order_relaxed);
    table->touched = true;
}

void table_clear(TranspositionTable *table)
{
    if (size_of(table) < LARGE) {
        memset((void *)table->slots, 0, size_of(table));
    } else {
        memory_clear(table->slots, size_of(table));
        table->touched = false;
    }
    table->age = 0;
}

void table_new_search(TranspositionTable *table, uint64_t plans)
{
    table->plans = plans;
    table->age = (uint8_t)((table->age + 1) % TABLE_AGES);
}

bool table_probe(const TranspositionTable *table, uint64_t key, TableEntry *entry)
{
    TableSlot *slot = table_bucket(table, key);
    for (int i = 0; i < TABLE_BUCKET; i++) {
        uint64_t data = atomic_load_explicit(&slot[i].data, memory_order_relaxed);
        uint64_t check = atomic_load_explicit(&slot[i].check, memory_order_relaxed);
        if ((check ^ data ^ table->plans) == key && data) {
            *entry = unpack(data);
            return true;
        }
    }
    return false;
}

/* How little would be lost by overwriting a slot: shallow and old goes first. */
static int worth(uint64_t data, uint8_t age)
{
    if (!data)
        return -1000;
    int older = (age - packed_age(data) + TABLE_AGES) % TABLE_AGES;
    return packed_depth(data) - TABLE_AGE_WORTH * older;
}

void table_store(TranspositionTable *table, uint64_t key, TableEntry entry)
{
    TableSlot *slot = table_bucket(table, key), *victim = slot;
    int least = worth(atomic_load_explicit(&slot->data, memory_order_relaxed), table->age);
    for (int i = 0; i < TABLE_BUCKET; i++) {
        uint64_t data = atomic_load_explicit(&slot[i].data, memory_order_relaxed);
        uint64_t check = atomic_load_explicit(&slot[i].check, memory_order_relaxed);
        if ((check ^ data ^ table->plans) == key) {
            TableEntry old = unpack(data);
            if (entry.move == NO_MOVE)
                entry.move = old.move;
            /* A much deeper result of this search is worth more than a fresh bound. */
            if (entry.bound != BOUND_EXACT && entry.depth + TABLE_DEPTH_KEPT < old.depth &&
                packed_age(data) == table->age)
                return;
            victim = &slot[i];
            break;
        }
        int value = worth(data, table->age);
        if (value < least) {
            least = value;
            victim = &slot[i];
        }
    }
    uint64_t data = pack(&entry, table->age);
    atomic_store_explicit(&victim->check, key ^ table->plans ^ data, memory_order_relaxed);
    atomic_store_explicit(&victim->data, data, memory_order_relaxed);
}

int table_permille(const TranspositionTable *table)
{
    enum { SAMPLE = 250 }; /* buckets; no table is that small */
    int used = 0;
    for (size_t i = 0; i < SAMPLE * TABLE_BUCKET; i++) {
        uint64_t data = atomic_load_explicit(&table->slots[i].data, memory_order_relaxed);
        used += data && packed_age(data) == table->age;
    }
    return used * 1000 / (SAMPLE * TABLE_BUCKET);
}
