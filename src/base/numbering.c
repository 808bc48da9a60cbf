#include "base/numbering.h"

#include "base/text.h"

enum { FIRST_PLACES = 16 };

static uint32_t next_place(const Numbering *numbering, uint32_t place)
{
    return (place + 1) & (numbering->place_count - 1);
}

static uint32_t first_place(const Numbering *numbering, uint64_t hash)
{
    return (uint32_t)hash & (numbering->place_count - 1);
}

static bool are(const NumberedBytes *known, const void *bytes, size_t length, uint64_t hash)
{
    return known->hash == hash && known->length == length && memcmp(known->bytes, bytes, length) == 0;
}

uint32_t number_given(const Numbering *numbering, const void *bytes, size_t length)
{
    if (!numbering->place_count)
        return 0;
    uint64_t hash = hash_words(HASH_START, bytes, length);
    uint32_t place = first_place(numbering, hash);
    while (numbering->places[place]
           && !are(&numbering->list.items[numbering->places[place] - 1], bytes, length, hash))
        place = next_place(numbering, place);
    return numbering->places[place];
}

static void put(Numbering *numbering, uint32_t number)
{
    uint32_t place = first_place(numbering, numbering->list.items[number - 1].hash);
    while (numbering->places[place])
        place = next_place(numbering, place);
    numbering->places[place] = number;
}

uint32_t give_number(Numbering *numbering, const void *bytes, size_t length)
{
    *LIST_ADD(numbering->arena, &numbering->list) = (NumberedBytes){arena_copy(numbering->arena, bytes, length),
                                                                    length, hash_words(HASH_START, bytes, length)};
    uint32_t count = numbering->list.count;
    if (count * 2 <= numbering->place_count) {
        put(numbering, count);
        return count;
    }
    numbering->place_count = numbering->place_count ? 2 * numbering->place_count : FIRST_PLACES;
    numbering->places = arena_take_many(numbering->arena, numbering->place_count, sizeof *numbering->places);
    for (uint32_t number = 1; number <= count; number++)
        put(numbering, number);
    return count;
}
