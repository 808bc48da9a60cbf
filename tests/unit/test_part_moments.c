/* When parts go onto the rod: each once, at its moment, against a plain search of random rods. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "bench/part_moments.h"

#include <string.h>

#include "in_memory.h"

enum { MOST_PARTS = 40, MOST_PLACES = 12, RODS = 3000 };

/* A rod of two sections, a metre each. */
typedef struct Small {
    Section sections[2];
    Part parts[MOST_PARTS];
    Rod written;
    PlannedLayer layers[MOST_PLACES];
    PlannedPlace places[MOST_PLACES];
    PlannedRod rod;
} Small;

static void begin(Small *small)
{
    memset(small, 0, sizeof *small);
    small->sections[1].start = 1000;
    small->written = (Rod){.sections = small->sections, .section_count = 2, .parts = small->parts};
    small->rod = (PlannedRod){.rod = &small->written, .places = small->places};
}

static void add_part(Small *small, double start, double end, bool wrapped, bool slides)
{
    small->parts[small->written.part_count++] =
        (Part){.start = start, .end = end, .wrapped = wrapped, .slides = slides};
}

static void add_place(Small *small, double start, double end)
{
    uint32_t place = small->rod.place_count++;
    small->layers[place] = (PlannedLayer){.start = start, .end = end};
    small->places[place] = (PlannedPlace){.layers = &small->layers[place], .layer_count = 1};
}

/* Letters by part, in the order in which they go on: "ab|1:c|d" are a and b before their sections are wound, c at
 * place 1, d before the finish. */
static const char *story(Arena *arena, const Small *small)
{
    Buffer out;
    buffer_start(&out, arena);
    PartMoments moments = part_moments(arena, &small->rod);
    assert_int_equal(moments.count, small->written.part_count);
    int kind = MOMENT_SECTION;
    for (uint32_t i = 0; i < moments.count; i++) {
        const PartMoment *moment = &moments.items[i];
        assert_true((int)moment->kind >= kind);
        for (; kind < (int)moment->kind; kind++)
            buffer_text(&out, "|");
        if (moment->kind == MOMENT_PLACE)
            buffer_format(&out, "%u:", (unsigned)moment->place);
        buffer_format(&out, "%c", 'a' + (int)moment->part);
    }
    for (; kind < MOMENT_FINISH; kind++)
        buffer_text(&out, "|");
    buffer_put(&out, "", 1);
    return out.bytes;
}

static void each_at_its_moment(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    Small small;
    begin(&small);
    add_place(&small, 600, 700); /* worked toward the butt, and before the other */
    add_place(&small, 560, 500);
    add_part(&small, 900, 912, false, true); /* a tip-top goes on after what lies behind it */
    add_part(&small, 0, 240, false, true);
    add_part(&small, 510, 520, true, false); /* under the second place */
    add_part(&small, 690, 710, true, false);
    add_part(&small, 650, 650, true, false);  /* a mark that thread covers, and one on thread */
    add_part(&small, 640, 640, false, false); /* under the finish */
    add_part(&small, 560, 600, true, false);  /* between the two: they touch it */
    add_part(&small, 300, 340, false, false); /* a decal */
    assert_string_equal(story(arena, &small), "ba|0:e0:d1:c|hgf");
}

/* What lies over another goes on after it, whichever begins first; they go on where the first of them does. */
static void the_lowest_first(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    Small small;
    begin(&small);
    add_part(&small, 120, 200, true, true);
    add_part(&small, 100, 150, true, true); /* on the one before */
    add_part(&small, 200, 230, true, true); /* touches it */
    add_part(&small, 90, 100, true, true);
    add_part(&small, 210, 220, false, false);
    assert_string_equal(story(arena, &small), "dabc||e");
    PartMoments moments = part_moments(arena, &small.rod);
    assert_int_equal(moments.items[0].section, 0);
    begin(&small);
    assert_string_equal(story(arena, &small), "||");
    add_part(&small, 1000, 1010, true, true);
    assert_int_equal(part_moments(arena, &small.rod).items[0].section, 1);
}

/* What thread reaches by hundredths of a millimetre it lies over; what it touches but for rounding it does not. */
static void by_hundredths(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    Small small;
    begin(&small);
    add_place(&small, 600, 700);
    add_part(&small, 590, 600.005, true, false);
    add_part(&small, 699.995, 710, true, false);
    add_part(&small, 590, 600 + 1e-9, true, false);
    add_part(&small, 700 - 1e-9, 710, true, false);
    assert_string_equal(story(arena, &small), "|0:a0:b|cd");
    begin(&small);
    add_part(&small, 120, 200, true, true);
    add_part(&small, 100, 120.005, true, true); /* the first lies over its end */
    add_part(&small, 80, 100 + 1e-9, true, true);
    assert_string_equal(story(arena, &small), "cab||");
}

static uint32_t seed = 1;

static uint32_t below(uint32_t most)
{
    seed = seed * 1664525 + 1013904223; /* Numerical Recipes, 2nd ed., p. 284 */
    return (seed >> 8) % most;
}

static bool lie_over(const Part *one, double low, double high)
{
    return one->start == one->end ? one->start > low && one->start < high : one->start < high && one->end > low;
}

/* The first place over it, by asking each; MOST_PLACES if none is. */
static uint32_t first_place(const Small *small, const Part *part)
{
    for (uint32_t p = 0; p < small->rod.place_count; p++) {
        double a = small->layers[p].start, b = small->layers[p].end;
        if (lie_over(part, a < b ? a : b, a < b ? b : a))
            return p;
    }
    return MOST_PLACES;
}

static void check_moment(const Small *small, const PartMoment *moment)
{
    const Part *part = &small->parts[moment->part];
    uint32_t place = first_place(small, part);
    if (part->slides)
        assert_int_equal(moment->kind, MOMENT_SECTION);
    else if (part->wrapped && place < MOST_PLACES)
        assert_true(moment->kind == MOMENT_PLACE && moment->place == place);
    else
        assert_int_equal(moment->kind, MOMENT_FINISH);
    assert_int_equal(moment->section, part->start >= 1000);
}

/* Where the stack of parts that lie over one another begins which this one is in: looked for until none is added.
 */
static double stack_of(const Small *small, const Part *part)
{
    double low = part->start, high = part->end;
    for (uint32_t i = 0; i < small->written.part_count; i++) {
        const Part *other = &small->parts[i];
        if (other->slides && other->start < high && other->end > low
            && (other->start < low || other->end > high)) {
            low = other->start < low ? other->start : low;
            high = other->end > high ? other->end : high;
            i = UINT32_MAX; /* from the first again */
        }
    }
    return low;
}

static void check_order(const Small *small, const PartMoment *one, const PartMoment *other)
{
    if (one->kind != MOMENT_SECTION || other->kind != MOMENT_SECTION)
        return;
    double first = stack_of(small, &small->parts[one->part]), second = stack_of(small, &small->parts[other->part]);
    assert_true(first < second || (first == second && one->part < other->part));
}

static void random_rods(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    for (int rod = 0; rod < RODS; rod++) {
        Small small;
        begin(&small);
        uint32_t parts = below(MOST_PARTS), places = below(MOST_PLACES), reach = 50 + below(1900);
        for (uint32_t i = 0; i < parts; i++) {
            double start = below(reach);
            add_part(&small, start, start + below(4) * below(60), below(3) > 0, below(3) == 0);
        }
        for (uint32_t i = 0; i < places; i++) {
            double start = below(reach);
            add_place(&small, start, start + 1 + below(80) * (double)below(2) - 41 * (double)below(2));
        }
        PartMoments moments = part_moments(arena, &small.rod);
        uint64_t seen = 0;
        for (uint32_t i = 0; i < moments.count; i++) {
            check_moment(&small, &moments.items[i]);
            seen |= UINT64_C(1) << moments.items[i].part;
            for (uint32_t j = i + 1; j < moments.count; j++)
                check_order(&small, &moments.items[i], &moments.items[j]);
        }
        assert_true(seen == (parts ? ~UINT64_C(0) >> (64 - parts) : 0));
        arena_clear(arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(each_at_its_moment, start, end),
        cmocka_unit_test_setup_teardown(the_lowest_first, start, end),
        cmocka_unit_test_setup_teardown(by_hundredths, start, end),
        cmocka_unit_test_setup_teardown(random_rods, start, end),
    };
    return cmocka_run_group_tests_name("moments of parts", tests, NULL, NULL);
}
