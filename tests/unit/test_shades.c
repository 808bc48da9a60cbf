/* Threads chosen by their colours: the walk against all orders of all subsets, what lies between and what is
 * missing against searches in small steps, pairs against each pair by itself; and what must not matter. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/limits.h"
#include "plan/shade_walk.h"
#include "plan/shades.h"
#include "plan/thread_patterns.h"
#include "trade/eye.h"
#include "trade/melting.h"

#include <math.h>
#include <string.h>

#include "in_memory.h"
#include "near.h"

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

enum { MOST = 40 };

static uint64_t seed = 1;
/* 0 to below 1. */
static double chance(void) { return between(&seed, 0, 1); }

static uint32_t any_colour(void) { return (uint32_t)(chance() * 0x1000000); }

/* A palette of threads, and what is asked of it. */
typedef struct Palette {
    Thread threads[MOST];
    const char *names[MOST];
    const Thread *list[MOST];
    ShadesTask task;
} Palette;

static void set_colours(Palette *palette, uint32_t count, const uint32_t *colours)
{
    memset(palette, 0, sizeof *palette);
    for (uint32_t i = 0; i < count; i++) {
        palette->names[i] = "thread";
        palette->threads[i] = (Thread){.colour = colours[i], .pitch = 0.15, .index = i};
        palette->list[i] = &palette->threads[i];
    }
    palette->task = (ShadesTask){.threads = palette->list,
                                 .count = count,
                                 .names = palette->names,
                                 .from = count > 1 ? &palette->threads[0] : NULL,
                                 .to = count > 1 ? &palette->threads[1] : NULL,
                                 .alike = 2,
                                 .jump = 3,
                                 .blur = eye_blur(0.5, 2000)};
}

static void set_random(Palette *palette, uint32_t count)
{
    uint32_t colours[MOST];
    for (uint32_t i = 0; i < count; i++)
        colours[i] = any_colour();
    set_colours(palette, count, colours);
}

static Lab lab_seen(Vision vision, uint32_t colour)
{
    return lab_of(xyz_of(light_seen(vision, light_of(colour))), colour_white());
}

static bool holds(const Shades *shades, const Thread *thread)
{
    for (uint32_t i = 0; i < shades->count; i++)
        if (shades->shades[i].thread == thread)
            return true;
    return false;
}

/* --- the walk --- */

typedef struct BestWalk {
    const Lab *shades;
    uint32_t count;
    double alike, largest, squares;
} BestWalk;

/* Every way on from `at`: the shades of `left`, a bit each, have not been gone over. */
static void try_ways(BestWalk *best, uint32_t at, uint32_t left, double largest, double squares)
{
    for (uint32_t to = 1; to < best->count; to++) {
        if (!(left >> to & 1))
            continue;
        double step = ciede2000(best->shades[at], best->shades[to]);
        bool whole = at == 0 && to == best->count - 1;
        if (step < best->alike && !whole)
            continue;
        double most = fmax(largest, step), sum = squares + step * step;
        if (to != best->count - 1)
            try_ways(best, to, left & ~(1u << to), most, sum);
        else if (most < best->largest || (most == best->largest && sum < best->squares)) {
            best->largest = most;
            best->squares = sum;
        }
    }
}

static void test_walk_is_the_smoothest(void **state)
{
    Memory *memory = *state;
    for (uint32_t round = 0; round < 300; round++) {
        enum { EIGHT = 8 };
        Lab shades[EIGHT];
        uint32_t count = 2 + round % (EIGHT - 1), walk[EIGHT];
        bool narrow = round % 2; /* near one another, so that some steps are too small */
        for (uint32_t i = 0; i < count; i++)
            shades[i] = narrow ? (Lab){50 + 12 * chance(), 12 * chance(), 12 * chance()}
                               : lab_seen(VISION_ALL_CONES, any_colour());
        BestWalk best = {shades, count, round % 3 ? 2 : 0, INFINITY, INFINITY};
        try_ways(&best, 0, (1u << count) - 2, 0, 0);
        uint32_t length = smoothest_walk(&memory->arena, shades, count, best.alike, walk);
        assert_true(length >= 2 && length <= count);
        assert_int_equal(walk[0], 0);
        assert_int_equal(walk[length - 1], count - 1);
        double largest = 0, squares = 0;
        for (uint32_t i = 1; i < length; i++) {
            double step = ciede2000(shades[walk[i - 1]], shades[walk[i]]);
            assert_true(step >= best.alike || length == 2);
            largest = fmax(largest, step);
            squares += step * step;
        }
        assert_true(largest == best.largest);
        assert_within(squares, best.squares, 1e-9 * best.squares);
    }
}

/* A step that differs by just as much as is told apart is one. */
static void test_steps_of_just_enough(void **state)
{
    Memory *memory = *state;
    const Lab shades[] = {{20, 0, 0}, {25, 0, 0}, {80, 0, 0}};
    double least = ciede2000(shades[0], shades[1]);
    uint32_t walk[3];
    assert_int_equal(smoothest_walk(&memory->arena, shades, 3, least, walk), 3);
    assert_int_equal(smoothest_walk(&memory->arena, shades, 3, least * (1 + 1e-9), walk), 2);
}

/* Two ways round that are equal: over the one that is declared first. */
static void test_of_equal_walks_the_first_declared(void **state)
{
    Memory *memory = *state;
    const Lab shades[] = {{20, 0, 0}, {50, 0, 0}, {50, 0, 0}, {80, 0, 0}};
    uint32_t walk[4];
    assert_int_equal(smoothest_walk(&memory->arena, shades, 4, 2, walk), 3);
    assert_int_equal(walk[1], 1);
    static const uint32_t colours[] = {0x101010, 0xf0f0f0, 0x777777, 0x777777};
    Palette palette;
    set_colours(&palette, 4, colours);
    Shades *made = shades_make(&memory->arena, &palette.task);
    assert_int_equal(made->count, 4);
    assert_int_equal(made->step_count, 2);
    assert_ptr_equal(made->shades[made->steps[0].to].thread, &palette.threads[2]);
    palette.list[2] = &palette.threads[3]; /* however they come */
    palette.list[3] = &palette.threads[2];
    made = shades_make(&memory->arena, &palette.task);
    assert_ptr_equal(made->shades[1].thread, &palette.threads[2]);
    assert_ptr_equal(made->shades[made->steps[0].to].thread, &palette.threads[2]);
}

/* A step that cannot be helped does not make the others large. */
static void test_walk_takes_what_makes_steps_smaller(void **state)
{
    Memory *memory = *state;
    const Lab shades[] = {{10, 0, 0}, {20, 0, 0}, {30, 0, 0}, {90, 0, 0}};
    uint32_t walk[4];
    assert_int_equal(smoothest_walk(&memory->arena, shades, 4, 2, walk), 4);
    assert_int_equal(walk[1], 1);
    assert_int_equal(walk[2], 2);
}

/* --- between --- */

/* The nearest point of the path in so many steps; its place along the path by as many
 * chords. */
static void nearest_by_steps(const MixPath *path, Lab colour, int steps, double *position, double *aside,
                             Lab *place)
{
    double length = 0, at = 0;
    *aside = INFINITY;
    Lab before = lab_of(xyz_of(path->from), colour_white());
    for (int i = 0; i <= steps; i++) {
        double share = (double)i / steps;
        Light light = {path->from.red + share * (path->to.red - path->from.red),
                       path->from.green + share * (path->to.green - path->from.green),
                       path->from.blue + share * (path->to.blue - path->from.blue)};
        Lab here = lab_of(xyz_of(light), colour_white());
        length += hypot(hypot(here.lightness - before.lightness, here.a - before.a), here.b - before.b);
        double off = hypot(hypot(here.lightness - colour.lightness, here.a - colour.a), here.b - colour.b);
        if (off < *aside) {
            *aside = off;
            *place = here;
            at = length;
        }
        before = here;
    }
    *position = at / length;
}

static void test_between(void **state)
{
    Memory *memory = *state;
    uint32_t inside = 0, outside = 0, refused_alike = 0, refused_aside = 0;
    for (int round = 0; round < 24; round++) {
        Palette palette;
        set_random(&palette, 12);
        palette.task.vision = (Vision)(round % VISION_COUNT);
        for (int i = 2; i < 5; i++) { /* near the path, or near an end */
            MixPath path = mix_path(light_of(palette.threads[0].colour), light_of(palette.threads[1].colour));
            palette.threads[i].colour = colour_of(mixed_light(&path, i == 2 ? 0.01 * chance() : chance()));
        }
        Vision vision = palette.task.vision;
        MixPath path = mix_path(light_seen(vision, light_of(palette.threads[0].colour)),
                                light_seen(vision, light_of(palette.threads[1].colour)));
        Shades *shades = shades_make(&memory->arena, &palette.task);
        assert_ptr_equal(shades->shades[0].thread, &palette.threads[0]);
        assert_ptr_equal(shades->shades[shades->count - 1].thread, &palette.threads[1]);
        for (uint32_t i = 2; i < 12; i++) {
            Lab colour = lab_seen(vision, palette.threads[i].colour);
            double position, aside;
            Lab place;
            nearest_by_steps(&path, colour, 10000, &position, &aside, &place);
            double from = difference_seen(vision, palette.threads[0].colour, palette.threads[i].colour);
            double to = difference_seen(vision, palette.threads[i].colour, palette.threads[1].colour);
            bool within = ciede2000(place, lab_seen(vision, palette.threads[0].colour)) >= 2
                          && ciede2000(place, lab_seen(vision, palette.threads[1].colour)) >= 2;
            bool told = from >= 2 && to >= 2;
            bool beside = aside <= path.length / 4;
            refused_alike += beside && !(within && told);
            refused_aside += within && told && !beside;
            inside += within && told && beside;
            outside += !(within && told && beside);
            if (fabs(aside - path.length / 4) > 0.01)
                assert_int_equal(holds(shades, &palette.threads[i]), within && told && beside);
        }
        for (uint32_t i = 1; i + 1 < shades->count; i++) {
            const ThreadShade *shade = &shades->shades[i];
            double position, aside;
            Lab place;
            nearest_by_steps(&path, shade->seen, 10000, &position, &aside, &place);
            assert_within(shade->aside, aside, 0.01);
            assert_within(shade->position, position, 0.01);
            assert_true(shade->position >= shades->shades[i - 1].position);
        }
        assert_within(shades->path->length, path.length, 1e-12);
        assert_within(shades->difference,
                      difference_seen(vision, palette.threads[0].colour, palette.threads[1].colour), 1e-12);
    }
    assert_true(inside > 20 && outside > 20 && refused_alike > 2 && refused_aside > 20);
}

/* Near an end: a shade that is not told apart from it, though its place on the path is. */
static void test_alike_to_an_end(void **state)
{
    Memory *memory = *state;
    uint32_t found = 0;
    for (int round = 0; round < 400; round++) {
        static const uint32_t ends[] = {0xff0000, 0x0000ff, 0x00ff00, 0xff00ff};
        Palette palette;
        set_random(&palette, 3);
        uint32_t end = palette.threads[0].colour = ends[round % 4], near = 0;
        for (int shift = 0; shift <= 16; shift += 8) {
            uint32_t code = end >> shift & 0xff, off = (uint32_t)(30 * chance());
            near |= (code ? code - off : off) << shift;
        }
        palette.threads[2].colour = near;
        MixPath path = mix_path(light_of(end), light_of(palette.threads[1].colour));
        Lab colour = lab_seen(VISION_ALL_CONES, near), place, from = lab_seen(VISION_ALL_CONES, end);
        double position, aside;
        nearest_by_steps(&path, colour, 400, &position, &aside, &place);
        if (aside > path.length * 0.24 || ciede2000(place, from) < 2.1 || ciede2000(colour, from) > 1.99)
            continue;
        found++;
        assert_int_equal(shades_make(&memory->arena, &palette.task)->count, 2);
        palette.task.alike = ciede2000(colour, from) - 0.001;
        assert_int_equal(shades_make(&memory->arena, &palette.task)->count, 3);
    }
    assert_true(found > 0);
}

/* Just within a quarter of the path's length, and just beyond. */
static void test_a_quarter_aside(void **state)
{
    Memory *memory = *state;
    static const uint32_t ends[] = {0x22346b, 0xdfe9ef};
    MixPath path = mix_path(light_of(ends[0]), light_of(ends[1]));
    uint32_t within = 0, beyond = 0;
    for (int round = 0; round < 3000; round++) {
        Palette palette;
        uint32_t colours[] = {ends[0], ends[1], any_colour()};
        set_colours(&palette, 3, colours);
        double position, aside;
        Lab place;
        nearest_by_steps(&path, lab_seen(VISION_ALL_CONES, colours[2]), 300, &position, &aside, &place);
        double share = aside / path.length;
        if (position < 0.1 || position > 0.9 || fabs(share - 0.25) > 0.01 || fabs(share - 0.25) < 0.0005)
            continue;
        within += share < 0.25;
        beyond += share > 0.25;
        assert_int_equal(shades_make(&memory->arena, &palette.task)->count, share < 0.25 ? 3 : 2);
    }
    assert_true(within > 2 && beyond > 2);
}

/* The order of declaration, and who is named first, do not matter. */
static void test_order_does_not_matter(void **state)
{
    Memory *memory = *state;
    for (int round = 0; round < 60; round++) {
        Palette palette, other;
        set_random(&palette, 14);
        other = palette;
        for (uint32_t i = 13; i; i--) {
            uint32_t j = (uint32_t)(chance() * (i + 1));
            const Thread *kept = other.list[i];
            other.list[i] = other.list[j];
            other.list[j] = kept;
        }
        for (uint32_t i = 0; i < 14;
             i++) /* numbered as they are declared now; in the palette itself as they were */
            ((Thread *)(palette.threads))[(size_t)(other.list[i] - palette.threads)].index = i;
        other.task.threads = other.list;
        Shades *one = shades_make(&memory->arena, &palette.task),
               *shuffled = shades_make(&memory->arena, &other.task);
        ShadesTask back = palette.task;
        back.from = palette.task.to;
        back.to = palette.task.from;
        Shades *reversed = shades_make(&memory->arena, &back);
        assert_int_equal(one->count, shuffled->count);
        assert_int_equal(one->count, reversed->count);
        assert_int_equal(one->step_count, shuffled->step_count);
        assert_int_equal(one->step_count, reversed->step_count);
        assert_int_equal(one->pair_count, shuffled->pair_count);
        for (uint32_t i = 0; i < one->count; i++) {
            assert_ptr_equal(one->shades[i].thread, shuffled->shades[i].thread);
            assert_ptr_equal(one->shades[i].thread, reversed->shades[one->count - 1 - i].thread);
        }
        for (uint32_t i = 0; i < one->step_count; i++) {
            const ShadeStep *step = &one->steps[i], *mirrored = &reversed->steps[one->step_count - 1 - i];
            assert_int_equal(step->to, shuffled->steps[i].to);
            assert_int_equal(step->from, one->count - 1 - mirrored->to);
            assert_within(step->difference, mirrored->difference, 1e-9);
            assert_int_equal(step->missing_count, mirrored->missing_count);
        }
    }
}

/* --- what melts, and what is missing --- */

/* The jump of a fade turn by turn, the light of each laid over the axis in fine slices. */
static double jump_by_slices(uint32_t from, uint32_t to, uint32_t steps, double blur, Vision vision)
{
    enum { SLICES = 200, SIDE = 12 };
    uint32_t turns = steps * (steps + 1);
    double largest = 0;
    Lab before = {0};
    for (int turn = -1; turn <= (int)turns; turn++) {
        double share = 0, all = 0;
        for (int slice = -SIDE * SLICES; slice <= SIDE * SLICES; slice++) {
            double x = turn + 0.5 + (slice + 0.5) / SLICES, off = (slice + 0.5) / SLICES;
            double weight = exp(-off * off / (2 * blur * blur));
            int at = (int)floor(x);
            bool new = at >= (int)turns || (at >= 0 && at % (int)(steps + 1) <= at / (int)(steps + 1));
            share += new ? weight : 0;
            all += weight;
        }
        share /= all;
        Light one = light_of(from), other = light_of(to);
        Light mixed = {one.red + share / 1 * (other.red - one.red), one.green + share * (other.green - one.green),
                       one.blue + share * (other.blue - one.blue)};
        Lab here = lab_of(xyz_of(light_seen(vision, mixed)), colour_white());
        if (turn >= 0)
            largest = fmax(largest, ciede2000(before, here));
        before = here;
    }
    return largest;
}

static void test_jumps(void **state)
{
    (void)state;
    for (int round = 0; round < 12; round++) {
        uint32_t from = any_colour(), to = any_colour(), steps = 1 + (uint32_t)round % 6;
        double blur = 1 + chance();
        Vision vision = (Vision)(round % VISION_COUNT);
        assert_within(melting_jump(light_of(from), light_of(to), vision, steps, blur),
                      jump_by_slices(from, to, steps, blur, vision), 0.02);
    }
    for (uint32_t steps = 1; steps <= 6; steps++) /* where the last jump of all is the largest, too */
        assert_within(melting_jump(light_of(0xffffff), light_of(0), VISION_ALL_CONES, steps, 1),
                      jump_by_slices(0xffffff, 0, steps, 1, VISION_ALL_CONES), 0.05);
    /* Far too near to melt: the jump is from shade to shade. */
    assert_within(melting_jump(light_of(0x22346b), light_of(0xdfe9ef), VISION_ALL_CONES, 4, 0.01),
                  difference_seen(VISION_ALL_CONES, 0x22346b, 0xdfe9ef), 1e-9);
    assert_within(melting_jump(light_of(0x22346b), light_of(0x22346b), VISION_ALL_CONES, 4, 2), 0, 1e-6);
}

static Light mixture(uint32_t from, uint32_t to, double share)
{
    Light one = light_of(from), other = light_of(to);
    return (Light){one.red + share * (other.red - one.red), one.green + share * (other.green - one.green),
                   one.blue + share * (other.blue - one.blue)};
}

/* The mixture with as much of the path before it as is asked for, by fine chords. */
static Light along_by_steps(Vision vision, uint32_t from, uint32_t to, double position)
{
    enum { STEPS = 20000 };
    static double lengths[STEPS + 1];
    static uint32_t of_from, of_to; /* of which ends these are the lengths, */
    static Vision of_vision;        /* to which eyes */
    Light one = light_seen(vision, light_of(from)), other = light_seen(vision, light_of(to));
    Lab before = lab_of(xyz_of(one), colour_white());
    bool known = of_from == from && of_to == to && of_vision == vision;
    for (int i = 1; i <= STEPS && !known; i++) {
        double share = (double)i / STEPS;
        Light mixed = {one.red + share * (other.red - one.red), one.green + share * (other.green - one.green),
                       one.blue + share * (other.blue - one.blue)};
        Lab here = lab_of(xyz_of(mixed), colour_white());
        lengths[i] =
            lengths[i - 1] + hypot(hypot(here.lightness - before.lightness, here.a - before.a), here.b - before.b);
        before = here;
    }
    of_from = from;
    of_to = to;
    of_vision = vision;
    int i = 0;
    while (i < STEPS && lengths[i] < position * lengths[STEPS])
        i++;
    return mixture(from, to, (double)i / STEPS);
}

static void assert_same_colour(uint32_t colour, Light light)
{
    for (int shift = 0; shift <= 16; shift += 8)
        assert_in_range((colour >> shift & 0xff) + 1 - (colour_of(light) >> shift & 0xff), 0, 2);
}

/* Each part melts, and with one shade less not every part did. */
static void test_missing_shades(void **state)
{
    Memory *memory = *state;
    uint32_t counts[MOST_MISSING + 1] = {0};
    for (int round = 0; round < 60; round++) {
        Palette palette;
        set_random(&palette, 2);
        Vision vision = palette.task.vision = (Vision)(round % VISION_COUNT);
        palette.threads[1].pitch = 0.15 + 0.1 * chance();
        double blur = palette.task.blur / ((0.15 + palette.threads[1].pitch) / 2);
        Shades *shades = shades_make(&memory->arena, &palette.task);
        assert_int_equal(shades->step_count, 1);
        const ShadeStep *step = &shades->steps[0];
        uint32_t from = palette.threads[0].colour, to = palette.threads[1].colour;
        assert_within(step->jump, melting_jump(light_of(from), light_of(to), vision, 4, blur), 1e-9);
        assert_int_equal(step->melts, step->jump <= 3);
        assert_int_equal(step->melts, step->missing_count == 0);
        counts[step->missing_count] += step->enough;
        uint32_t most = step->enough ? step->missing_count + 1 : MOST_MISSING + 1;
        for (uint32_t parts = 1; parts <= most; parts++) {
            double largest = 0;
            for (uint32_t i = 0; i < parts; i++)
                largest = fmax(largest,
                               melting_jump(along_by_steps(vision, from, to, (double)i / parts),
                                            along_by_steps(vision, from, to, (i + 1.0) / parts), vision, 4, blur));
            assert_int_equal(largest <= 3, step->enough && parts == most);
        }
        for (uint32_t i = 0; i < step->missing_count; i++)
            assert_same_colour(step->missing[i],
                               along_by_steps(vision, from, to, (i + 1.0) / (step->missing_count + 1)));
    }
    assert_true(counts[0] && counts[1] && counts[2]);
}

/* A jump that is just what shows as a line is none yet. */
static void test_just_melting(void **state)
{
    Memory *memory = *state;
    Palette palette;
    static const uint32_t colours[] = {0x22346b, 0x9db8d6};
    set_colours(&palette, 2, colours);
    palette.task.jump = shades_make(&memory->arena, &palette.task)->steps[0].jump;
    assert_true(shades_make(&memory->arena, &palette.task)->steps[0].melts);
    palette.task.jump *= 1 - 1e-9;
    const ShadeStep *step = shades_make(&memory->arena, &palette.task)->steps;
    assert_false(step->melts);
    assert_int_equal(step->missing_count, 1);
    static const uint32_t three[] = {0x22346b, 0x22346b, 0x22346b};
    set_colours(&palette, 3, three); /* of equal ones the first is nearest, and pairs come in order */
    palette.task.from = palette.task.to = NULL;
    const Shades *shades = shades_make(&memory->arena, &palette.task);
    assert_int_equal(shades->shades[0].nearest, 1);
    assert_int_equal(shades->shades[1].nearest, 0);
    assert_int_equal(shades->shades[2].nearest, 0);
    for (uint32_t i = 0; i < 3; i++) {
        assert_int_equal(shades->pairs[i].first, i == 2);
        assert_int_equal(shades->pairs[i].second, i == 0 ? 1 : 2);
    }
}

/* However many lie between, sharp eyes see every step: the one halfway is named. */
static void test_never_enough(void **state)
{
    Memory *memory = *state;
    Palette palette;
    static const uint32_t colours[] = {0x000000, 0xffffff};
    set_colours(&palette, 2, colours);
    palette.task.blur = 0.01;
    const ShadeStep *step = shades_make(&memory->arena, &palette.task)->steps;
    assert_false(step->enough);
    assert_int_equal(step->missing_count, 1);
    assert_same_colour(step->missing[0], along_by_steps(VISION_ALL_CONES, 0x000000, 0xffffff, 0.5));
    /* Seven are enough where parts of an eighth melt. */
    palette.task.jump =
        difference_seen(VISION_ALL_CONES, 0, colour_of(along_by_steps(VISION_ALL_CONES, 0, 0xffffff, 1.0 / 8)))
        + 8;
    step = shades_make(&memory->arena, &palette.task)->steps;
    assert_true(step->enough);
    assert_true(step->missing_count > 1 && step->missing_count <= MOST_MISSING);
}

/* --- who is near whom, and who is mistaken --- */

static void test_pairs(void **state)
{
    Memory *memory = *state;
    for (int round = 0; round < 40; round++) {
        Palette palette;
        set_random(&palette, 30);
        for (uint32_t i = 0; i < 30 && round % 3; i++) /* very dark, or very light */
            palette.threads[i].colour = (any_colour() & 0x2f2f2f) ^ (round % 3 == 1 ? 0 : 0xffffff);
        palette.task.from = palette.task.to = NULL;
        palette.task.vision = (Vision)(round % VISION_COUNT);
        Shades *shades = shades_make(&memory->arena, &palette.task);
        assert_int_equal(shades->count, 30);
        uint32_t expected = 0;
        for (uint32_t i = 0; i < 30; i++) {
            const ThreadShade *shade = &shades->shades[i];
            assert_ptr_equal(shade->thread, &palette.threads[i]);
            double least = INFINITY;
            uint32_t nearest = NO_SHADE;
            for (uint32_t j = 0; j < 30; j++) {
                double difference =
                    difference_seen(palette.task.vision, palette.threads[i].colour, palette.threads[j].colour);
                if (j != i && difference < least) {
                    least = difference;
                    nearest = j;
                }
            }
            assert_int_equal(shade->nearest, nearest);
            assert_within(shade->difference, least, 1e-12);
            for (uint32_t j = i + 1; j < 30; j++) {
                unsigned visions = 0;
                double smallest = INFINITY;
                for (int vision = 0; vision < VISION_COUNT; vision++) {
                    bool counts = !palette.task.vision || palette.task.vision == (Vision)vision;
                    double difference =
                        difference_seen((Vision)vision, palette.threads[i].colour, palette.threads[j].colour);
                    if (counts && difference < MISTAKABLE) {
                        visions |= 1u << vision;
                        smallest = fmin(smallest, difference);
                    }
                }
                if (!visions)
                    continue;
                expected++;
                uint32_t at = 0;
                while (at < shades->pair_count && (shades->pairs[at].first != i || shades->pairs[at].second != j))
                    at++;
                assert_true(at < shades->pair_count);
                assert_int_equal(shades->pairs[at].visions, visions);
                assert_within(shades->pairs[at].difference, smallest, 1e-12);
                assert_true(shades->shades[i].pattern && shades->shades[j].pattern);
                bool crowded = shades->shades[j].pattern == PATTERN_COUNT - 1;
                assert_true(crowded || shades->shades[i].pattern != shades->shades[j].pattern);
            }
        }
        assert_int_equal(shades->pair_count, expected);
        for (uint32_t i = 1; i < shades->pair_count; i++)
            assert_true(shades->pairs[i - 1].difference <= shades->pairs[i].difference);
    }
}

/* Of two threads: those between alone; others are in no pair. */
static void test_pairs_of_those_between(void **state)
{
    Memory *memory = *state;
    static const uint32_t colours[] = {0x22346b, 0xdfe9ef, 0x4c6a9c, 0x50709c, 0xc02020, 0xc42424};
    Palette palette;
    set_colours(&palette, 6, colours);
    Shades *shades = shades_make(&memory->arena, &palette.task);
    assert_int_equal(shades->count, 4);
    assert_int_equal(shades->pair_count, 1);
    assert_int_equal(shades->pairs[0].first, 1);
    assert_int_equal(shades->pairs[0].second, 2);
    assert_true(shades->shades[1].pattern && shades->shades[2].pattern && !shades->shades[0].pattern);
    palette.task.from = palette.task.to = NULL;
    shades = shades_make(&memory->arena, &palette.task);
    assert_int_equal(shades->count, 6);
    assert_int_equal(shades->pair_count, 2);
    assert_true(isnan(shades->shades[0].position) && isnan(shades->shades[0].aside));
}

/* As many threads as are compared, and one more; of many equal ones the pairs that a page has. */
static void test_many(void **state)
{
    Memory *memory = *state;
    static Thread threads[LIMIT_SHADES + 1];
    static const Thread *list[LIMIT_SHADES + 1];
    for (uint32_t i = 0; i <= LIMIT_SHADES; i++) {
        threads[i] = (Thread){.colour = i < 60 ? 0x808080 : any_colour(), .pitch = 0.15, .index = i};
        list[i] = &threads[i];
    }
    static const char *names[LIMIT_SHADES + 1];
    ShadesTask task = {.threads = list, .names = names, .count = LIMIT_SHADES, .alike = 2, .jump = 3, .blur = 0.3};
    Shades *shades = shades_make(&memory->arena, &task);
    assert_int_equal(shades->pair_count, LIMIT_SHADE_PAIRS);
    assert_true(shades->pairs_left_out >= 60 * 59 / 2 - LIMIT_SHADE_PAIRS);
    assert_true(shades->pairs[LIMIT_SHADE_PAIRS - 1].difference == 0);
    task.count++;
    if (setjmp(*trap_set(&memory->trap)) == 0) {
        shades_make(&memory->arena, &task);
        fail();
    }
    assert_int_equal(memory->trap.beyond, BEYOND_SHADES);
    memory->trap.beyond = BEYOND_NOTHING;
    task.from = &threads[0]; /* with two named, those between are few */
    task.to = &threads[LIMIT_SHADES];
    shades = shades_make(&memory->arena, &task);
    assert_true(shades->count >= 2 && shades->count < LIMIT_SHADES);
}

static void test_few(void **state)
{
    Memory *memory = *state;
    Palette palette;
    set_colours(&palette, 0, NULL);
    assert_int_equal(shades_make(&memory->arena, &palette.task)->count, 0);
    static const uint32_t one[] = {0x22346b};
    set_colours(&palette, 1, one);
    Shades *shades = shades_make(&memory->arena, &palette.task);
    assert_int_equal(shades->count, 1);
    assert_int_equal(shades->shades[0].nearest, NO_SHADE);
    /* Two that are one colour: nothing lies between. */
    static const uint32_t same[] = {0x22346b, 0x22346b, 0x22346b, 0x4c6a9c};
    set_colours(&palette, 4, same);
    palette.task.alike = 0;
    shades = shades_make(&memory->arena, &palette.task);
    assert_int_equal(shades->count, 2);
    assert_int_equal(shades->step_count, 1);
    assert_true(shades->steps[0].melts && shades->steps[0].difference == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_walk_is_the_smoothest),
        TEST(test_steps_of_just_enough),
        TEST(test_alike_to_an_end),
        TEST(test_a_quarter_aside),
        TEST(test_of_equal_walks_the_first_declared),
        TEST(test_walk_takes_what_makes_steps_smaller),
        TEST(test_between),
        TEST(test_order_does_not_matter),
        TEST(test_jumps),
        TEST(test_missing_shades),
        TEST(test_just_melting),
        TEST(test_never_enough),
        TEST(test_pairs),
        TEST(test_pairs_of_those_between),
        TEST(test_many),
        TEST(test_few),
    };
    return cmocka_run_group_tests_name("shades", tests, NULL, NULL);
}
