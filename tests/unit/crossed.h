/* Crosswraps compiled from a text, random texts of them, and where their threads lie by arithmetic of the tests'
 * own: from leads, senses and diameters as the reference has them, without the plan's functions. */
#ifndef TURNLAY_TESTS_CROSSED_H
#define TURNLAY_TESTS_CROSSED_H

#include "near.h"

#include "trade/trade.h"
#include "compilation.h"

#include <stdio.h>
#include <string.h>

static bool checking;
static char checked[2000]; /* the text that is being checked */

/* A test that failed says of which text. */
static inline int say_which(void **state)
{
    (void)state;
    if (checking)
        print_error("of this text:\n%s", checked);
    checking = false;
    return 0;
}

#define OF_TEXTS(test) cmocka_unit_test_teardown(test, say_which)

/* The first crosswrap of the first place of a file's first rod. */
typedef struct Crossed {
    Compilation *compilation;
    const PlannedLayer *layer;
    const PlannedCrosswrap *planned;
    uint32_t layer_index;
} Crossed;

/* What is laid out is looked at whether it can be worked or not (chapter T6: it overlaps, it slips); any other
 * error fails the test. */
static inline void only_unworkable(const Findings *findings)
{
    for (uint32_t i = 0; i < findings->list.count; i++) {
        const Finding *finding = &findings->list.items[i];
        const char *code = finding_code_text(finding->code);
        if (finding->severity == SEVERITY_ERROR && code[1] != '6')
            fail_msg("%s: %s", code, finding->message);
    }
}

/* A background for which the other strands leave no room is not laid: a random text may have one. */
static inline bool lacks_room(const Findings *findings)
{
    for (uint32_t i = 0; i < findings->list.count; i++)
        if (findings->list.items[i].code == FINDING_NOTHING_LEFT_TO_FILL)
            return true;
    return false;
}

/* planned is NULL only where the background lacks room. */
static inline Crossed crossed(const char *text)
{
    Crossed made = {.compilation = compilation_new(0)};
    snprintf(checked, sizeof checked, "%s", text);
    checking = true;
    assert_non_null(made.compilation);
    turnlay_give(made.compilation, "crossed.lay", text, strlen(text));
    while (turnlay_want(made.compilation).path)
        turnlay_give(made.compilation, "sizes.lay", "edition 1\n", 10);
    turnlay_finish(made.compilation);
    if (lacks_room(&made.compilation->findings))
        return made;
    only_unworkable(&made.compilation->findings);
    const PlannedPlace *place = &made.compilation->plan->rods[0].places[0];
    for (uint32_t i = 0; i < place->layer_count && !made.planned; i++) {
        made.layer = &place->layers[i];
        made.planned = made.layer->crosswrap;
        made.layer_index = i;
    }
    if (!made.planned)
        fail_msg("no crosswrap was planned");
    return made;
}

static inline void crossed_end(Crossed *made)
{
    turnlay_free(made->compilation);
    checking = false;
}

/* A wrap below that ends in the field: 41.25 mm of slate. */
#define UNDER_TURNS 150
#define UNDER_TURNS_TEXT "150 turns"

/* What a random text says, kept so that the plan can be held against it. */
typedef struct Recipe {
    CrosswrapKind kind;
    bool toward_butt, butt_right, away, points_to_butt, fill;
    enum { UNDER_NONE, UNDER_FILL, UNDER_PART } under; /* a wrap below: none, everywhere, up to a step */
    const char *ends;                                  /* what holds the passes */
    double mark, length;                               /* of the place */
    double diameters[3];                               /* at 0, 500 and 1000 mm */
    uint32_t starts, leads[2], facing, crossings, end_turns, line_count;
    double turns; /* of a spiral */
    struct {
        uint32_t count, thread;
        bool spacer;
    } lines[4]; /* count 0: fill */
} Recipe;

/* Width and diameter of the threads of all recipes: diameter and packing as they stand in the text. */
static const char *const recipe_names[] = {"navy", "slate", "mist", "foam"};
static const double recipe_diameters[] = {0.15, 0.25, 0.4, 0.8};
static const double recipe_packings[] = {1, 1.1, 1, 1.05};
static inline double recipe_pitch(uint32_t thread) { return recipe_diameters[thread] * recipe_packings[thread]; }

static inline uint32_t any_of(uint64_t *random, uint32_t low, uint32_t high)
{
    return low + (uint32_t)between(random, 0, high - low + 1);
}

static inline Recipe random_recipe(uint64_t *random)
{
    static const uint32_t leads[][2] = {{1, 1}, {1, 1}, {2, 1}, {1, 2}, {3, 2}, {5, 3}, {2, 5}};
    static const char *const ends[] = {"tape", "pins", "none"};
    Recipe recipe = {.kind = (CrosswrapKind)any_of(random, 0, 2),
                     .toward_butt = any_of(random, 0, 1),
                     .butt_right = any_of(random, 0, 1),
                     .away = any_of(random, 0, 1),
                     .under = any_of(random, 0, 2),
                     .points_to_butt = any_of(random, 0, 1),
                     .ends = ends[any_of(random, 0, 2)],
                     .starts = any_of(random, 1, 4),
                     .end_turns = any_of(random, 8, 20),
                     .line_count = any_of(random, 1, 4)};
    recipe.mark = any_of(random, 4200, 5800) / 10.0; /* so that the station at 500 mm lies within some */
    recipe.length = any_of(random, 600, 1200) / 10.0;
    double d = any_of(random, 60, 160) / 10.0, slope = any_of(random, 0, 3) ? between(random, -0.01, 0.01) : 0;
    recipe.diameters[0] = round(100 * (d - 500 * slope)) / 100;
    recipe.diameters[1] = d;
    recipe.diameters[2] = round(100 * (d + 500 * slope * between(random, 0.5, 1))) / 100;
    for (int i = 0; i < 3; i++)
        recipe.diameters[i] = fmax(recipe.diameters[i], 3);
    uint32_t pair = any_of(random, 0, 6);
    recipe.leads[0] = leads[pair][0];
    recipe.leads[1] = leads[pair][1];
    recipe.facing = any_of(random, 1, recipe.leads[0] + recipe.leads[1]);
    recipe.crossings = any_of(random, 2, 6);
    recipe.turns = any_of(random, 4, 24) / 4.0;
    uint32_t fill = any_of(random, 0, 5);
    for (uint32_t i = 0; i < recipe.line_count; i++) {
        recipe.lines[i].thread = i == fill ? 3 : any_of(random, 0, 3);
        recipe.lines[i].count = i == fill ? 0 : any_of(random, 1, 4);
        recipe.lines[i].spacer = i > 0 && i != fill && any_of(random, 0, 5) == 0;
        recipe.fill |= i == fill;
    }
    return recipe;
}

enum { RECIPE_TEXT = 2000 };

static inline void put_recipe(char text[RECIPE_TEXT], const Recipe *recipe)
{
    static const char *const kinds[] = {"chevron", "diamond", "spiral"};
    size_t at = 0;
#define PUT(...) at += (size_t)snprintf(text + at, RECIPE_TEXT - at, __VA_ARGS__)
    PUT("edition 1\n");
    for (int i = 0; i < 4; i++)
        PUT("thread %s { diameter: %.2f mm, packing: %.2f }\n", recipe_names[i], recipe_diameters[i],
            recipe_packings[i]);
    PUT("bench { units: mm, left: %s, rotation: %s, ends: %s, flattest: 1 deg, steepest: 89 deg }\n",
        recipe->butt_right ? "tip" : "butt", recipe->away ? "away" : "toward", recipe->ends);
    PUT("blank tube { at 0 mm: %.2f mm  at 500 mm: %.2f mm  at 1000 mm: %.2f mm }\n", recipe->diameters[0],
        recipe->diameters[1], recipe->diameters[2]);
    PUT("rod \"Tested\" on tube {\n at %.1f mm toward: %s length: %.1f mm {\n", recipe->mark,
        recipe->toward_butt ? "butt" : "tip", recipe->length);
    if (recipe->under)
        PUT("  under { band %s of slate }\n", recipe->under == UNDER_FILL ? "fill" : UNDER_TURNS_TEXT);
    PUT("  %s ", kinds[recipe->kind]);
    if (recipe->kind == CROSSWRAP_SPIRAL)
        PUT("turns: %.2f turns ", recipe->turns);
    else
        PUT("crossings: %u leads: [%u, %u] facing: %u ", recipe->crossings, recipe->leads[0], recipe->leads[1],
            recipe->facing);
    if (recipe->kind == CROSSWRAP_CHEVRON && recipe->points_to_butt)
        PUT("pointing: butt ");
    PUT("starts: %u ends: %u turns of navy {\n", recipe->starts, recipe->end_turns);
    for (uint32_t i = 0; i < recipe->line_count; i++) {
        bool spacer = recipe->lines[i].spacer;
        PUT("   strand ");
        if (recipe->lines[i].count)
            PUT("%u ", recipe->lines[i].count);
        else
            PUT("fill ");
        PUT("of %s%s%s\n", spacer ? "spacer(" : "", recipe_names[recipe->lines[i].thread], spacer ? ")" : "");
    }
    PUT("  }\n }\n}\n");
#undef PUT
    assert_true(at < RECIPE_TEXT);
}

static inline Crossed crossed_recipe(const Recipe *recipe)
{
    char text[RECIPE_TEXT];
    put_recipe(text, recipe);
    return crossed(text);
}

/* Plans of so many random recipes, each handed to `check`. */
static inline void for_recipes(uint64_t seed, int count,
                               void (*check)(const Recipe *, const Crossed *, uint64_t *random))
{
    uint64_t random = seed;
    for (int i = 0; i < count; i++) {
        Recipe recipe = random_recipe(&random);
        Crossed made = crossed_recipe(&recipe);
        if (made.planned)
            check(&recipe, &made, &random);
        else
            i--; /* another in its place */
        crossed_end(&made);
    }
}

/* Surface below by the plan's stretches; at a step that of the stretch toward the tip. */
static inline double own_diameter(const PlannedCrosswrap *planned, double x)
{
    const SurfaceStretch *at = &planned->stretches[0];
    for (uint32_t i = 1; i < planned->stretch_count && planned->stretches[i].from <= x; i++)
        at = &planned->stretches[i];
    return at->diameter_from + (at->diameter_to - at->diameter_from) * (x - at->from) / (at->to - at->from);
}

/* 1 / cos b of a leg, tan b = lead / (pi (D + d)). */
static inline double own_secant(const PlannedCrosswrap *planned, Leg leg, double x)
{
    return hypot(1, planned->lead[leg] / (TRADE_PI * (own_diameter(planned, x) + planned->thread_diameter)));
}

/* Where a line `across` the strands stands at x: round in the sense of turning on the way out, against it on the
 * way back. */
static inline double own_turn(const PlannedCrosswrap *planned, uint32_t start, Leg leg, double across, double x)
{
    double way = planned->direction * (x - across * own_secant(planned, leg, x) - planned->field_start);
    return planned->base + planned->sense * (double)start / planned->starts
           + (leg == LEG_OUT ? 1 : -1) * planned->sense * way / planned->lead[leg];
}

/* What is left of a number of turns beyond whole ones, from -1/2 to 1/2. */
static inline double off_whole(double turns) { return turns - nearbyint(turns); }

static inline Leg last_leg(const PlannedCrosswrap *planned)
{
    return planned->crosswrap->kind == CROSSWRAP_SPIRAL ? LEG_OUT : LEG_BACK;
}

#define FULL_TURN 360.0

/* Surface below the crosswrap, as the text has it. */
static inline double recipe_surface(const Recipe *recipe, double x)
{
    int half = x >= 500;
    double part = x / 500 - half;
    double bare = recipe->diameters[half] + (recipe->diameters[half + 1] - recipe->diameters[half]) * part;
    double way = (recipe->toward_butt ? -1 : 1) * (x - recipe->mark);
    bool on_wrap = recipe->under && (recipe->under == UNDER_FILL || way < UNDER_TURNS * recipe_pitch(1));
    return bare + (on_wrap ? 2 * recipe_diameters[1] : 0);
}

/* The layer's end where legs turn round: that which the leg out comes to, or that which it leaves. */
static inline double turning_place(const PlannedCrosswrap *planned, bool far)
{
    return (planned->direction > 0) == far ? planned->high : planned->low;
}

/* Any place of the layer, now and then one of its ends or the field's. */
static inline double any_place(const PlannedCrosswrap *planned, uint64_t *random)
{
    const double places[] = {planned->low, planned->high, planned->field_start, planned->field_end};
    uint32_t which = any_of(random, 0, 19);
    return which < 4 ? places[which] : between(random, planned->low, planned->high);
}

/* The same place round the blank, up to rounding: 359.9999999 and 0 are. */
static inline void assert_same_way(double degrees_found, double degrees_wanted)
{
    assert_within(off_whole((degrees_found - degrees_wanted) / FULL_TURN), 0, 1e-9);
}

#endif
