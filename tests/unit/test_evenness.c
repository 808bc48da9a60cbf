/* How even fades look, against a second way: the eye's spread integrated over single turns one by one (Simpson's
 * rule), whose order is written out here by hand, and the path of colours measured in twenty thousand chords. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "near.h"
#include "plan/fade_kinds.h"
#include "trade/eye.h"
#include "words/evenness_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

static const char head[] = "edition 1\n"
                           "thread navy { turns: 10 per 1.5 mm, colour: #22346b }\n"
                           "thread foam { turns: 10 per 1.5 mm, colour: #dfe9ef }\n"
                           "thread rope { turns: 10 per 4 mm, colour: #c8502c }\n"
                           "thread haze { turns: 10 per 1.5 mm, colour: #dfe9ef, opacity: 40 % }\n"
                           "thread dusk { turns: 10 per 1.5 mm, colours: [#000000, #ffffff], period: 9 cm }\n"
                           "thread plum { turns: 10 per 1.5 mm, colour: #243770 }\n"
                           "thread twin { turns: 10 per 1.5 mm, colour: #22346b }\n"
                           "thread blue { turns: 10 per 1.5 mm, colour: #0000ff }\n"
                           "thread gold { turns: 10 per 1.5 mm, colour: #ffff00 }\n"
                           "thread grey { turns: 10 per 1.5 mm }\n"
                           "blank tube { colour: #3f4a2b, at 0 mm: 12 mm  at 1000 cm: 4 mm }\n";

static Compilation *compile(const char *bench, const char *place)
{
    char text[4096];
    int length =
        snprintf(text, sizeof text, "%sbench { carry: 1 turn, %s }\nrod \"R\" on tube { %s }", head, bench, place);
    Compilation *compilation = compilation_new(0);
    turnlay_give(compilation, "test.lay", text, (size_t)length);
    while (turnlay_want(compilation).path)
        turnlay_give(compilation, "none.lay", "edition 1\n", 10);
    if (turnlay_finish(compilation) != TURNLAY_DONE)
        fail_msg("%s: %s", compilation->findings.list.items[0].message, place);
    return compilation;
}

/* --- the second way --- */

/* Light of red, green and blue: IEC 61966-2-1. */
typedef struct Three {
    double of[3];
} Three;

static Three light_written(uint32_t colour)
{
    Three light;
    for (int i = 0; i < 3; i++) {
        double code = (colour >> (16 - 8 * i) & 0xff) / 255.0;
        light.of[i] = code <= 0.04045 ? code / 12.92 : pow((code + 0.055) / 1.055, 2.4);
    }
    return light;
}

static Three mixed(Three old, Three new, double share)
{
    Three light;
    for (int i = 0; i < 3; i++)
        light.of[i] = share * new.of[i] + (1 - share) * old.of[i];
    return light;
}

static Light seen_by(Vision vision, Three three)
{
    return light_seen(vision, (Light){three.of[0], three.of[1], three.of[2]});
}

static Lab lab_by(Vision vision, Three light) { return lab_of(xyz_of(seen_by(vision, light)), colour_white()); }

/* A fade as it is written out: a letter for each turn, `n` of the new shade and `o` of the old one. */
typedef struct Written {
    const char *turns;
    Three old, new;
    double old_pitch, new_pitch; /* mm */
    double blur;                 /* mm */
} Written;

static double pitch_at(const Written *fade, size_t turn)
{
    return fade->turns[turn] == 'n' ? fade->new_pitch : fade->old_pitch;
}

/* mm from the fade's start to where so many turns end. */
static double width_to(const Written *fade, size_t turns)
{
    double width = 0;
    for (size_t i = 0; i < turns; i++)
        width += pitch_at(fade, i);
    return width;
}

static double spread(double off, double blur)
{
    return exp(-off * off / (2 * blur * blur)) / (blur * sqrt(2 * PI));
}

/* The spread about x, from one place to another. */
static double spread_over(double x, double from, double to, double blur)
{
    enum { PARTS = 64 };
    double step = (to - from) / PARTS, sum = spread(from - x, blur) + spread(to - x, blur);
    for (int i = 1; i < PARTS; i++)
        sum += (i % 2 ? 4 : 2) * spread(from + i * step - x, blur);
    return sum * step / 3;
}

static double share_at(const Written *fade, double x)
{
    size_t turns = strlen(fade->turns);
    double share = 0, start = 0;
    for (size_t i = 0; i < turns; i++) {
        double pitch = pitch_at(fade, i);
        if (fade->turns[i] == 'n' && fabs(start - x) < 12 * fade->blur + pitch)
            share += spread_over(x, start, start + pitch, fade->blur);
        start += pitch;
    }
    for (double from = start; from < x + 12 * fade->blur; from += fade->blur)
        if (from > x - 13 * fade->blur)
            share += spread_over(x, from, from + fade->blur, fade->blur);
    return share;
}

/* How far along the path of colours between what an eye sees of the two shades a mixture lies. */
typedef struct Chords {
    double at[20001];
} Chords;

static double apart(Lab one, Lab other)
{
    double lightness = one.lightness - other.lightness, a = one.a - other.a, b = one.b - other.b;
    return sqrt(lightness * lightness + a * a + b * b);
}

static void measure_path(Chords *chords, const Written *fade, Vision vision)
{
    Light old = seen_by(vision, fade->old), new = seen_by(vision, fade->new);
    Three from = {{old.red, old.green, old.blue}}, to = {{new.red, new.green, new.blue}};
    Lab before = lab_by(VISION_ALL_CONES, from);
    chords->at[0] = 0;
    for (int i = 1; i <= 20000; i++) {
        Lab here = lab_by(VISION_ALL_CONES, mixed(from, to, i / 20000.0));
        chords->at[i] = chords->at[i - 1] + apart(before, here);
        before = here;
    }
}

static double position_at(const Chords *chords, double share)
{
    return chords->at[(int)round(share * 20000)] / chords->at[20000];
}

/* The middle of a turn from 0, the one before the fade, to one behind its last. */
static double middle_at(const Written *fade, size_t turn)
{
    size_t turns = strlen(fade->turns);
    if (turn == 0)
        return -fade->old_pitch / 2;
    return turn > turns ? width_to(fade, turns) + fade->new_pitch / 2
                        : width_to(fade, turn) - pitch_at(fade, turn - 1) / 2;
}

static double largest_jump(const Written *fade)
{
    double most = 0;
    for (size_t turn = 0; turn <= strlen(fade->turns); turn++) {
        Three here = mixed(fade->old, fade->new, share_at(fade, middle_at(fade, turn)));
        Three next = mixed(fade->old, fade->new, share_at(fade, middle_at(fade, turn + 1)));
        most = fmax(most, ciede2000(lab_by(VISION_ALL_CONES, here), lab_by(VISION_ALL_CONES, next)));
    }
    return most;
}

/* --- beside what the plan says --- */

static FadeAt fade_of(const Compilation *c, uint32_t layer, uint32_t item)
{
    const PlannedRod *rod = &c->plan->rods[0];
    return (FadeAt){&c->job->bench, rod->rod, &rod->places[0], layer, item};
}

static void check_turn(const Written *fade, const SeenTurn *seen, const FadeAt *at, Vision vision,
                       const Chords *path)
{
    size_t turns = strlen(fade->turns);
    const PlannedItem *item = &at->place->layers[at->layer].items[at->item];
    double w = middle_at(fade, seen->turn), start = at->place->layers[at->layer].runs[item->first_run].start;
    assert_within(seen->x, start + at->place->direction * w, 1e-9);
    double share = share_at(fade, w);
    Light light = seen_by(vision, mixed(fade->old, fade->new, share));
    assert_within(seen->light.red, light.red, 1e-8);
    assert_within(seen->light.green, light.green, 1e-8);
    assert_within(seen->light.blue, light.blue, 1e-8);
    assert_within(seen->lightness, lab_by(vision, mixed(fade->old, fade->new, share)).lightness, 1e-5);
    assert_within(seen->position, position_at(path, share), 2e-4);
    if (seen->turn == 0 || seen->turn > turns)
        assert_true(isnan(seen->even));
    else
        assert_within(seen->even, w / width_to(fade, turns), 1e-9);
}

static void check_fade(const FadeAt *at, const Written *fade, Vision vision)
{
    size_t turns = strlen(fade->turns);
    static Chords path;
    measure_path(&path, fade, vision);
    Arena arena;
    Trap trap;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    FadeCourse course = fade_course(&arena, at, vision);
    assert_int_equal(course.count, turns + 2);
    double departure = 0, jump = 0;
    for (uint32_t i = 0; i < course.count; i++) {
        assert_int_equal(course.turns[i].turn, i);
        check_turn(fade, &course.turns[i], at, vision, &path);
    }
    FadeLook look = fade_look(at, vision), cheap = fade_jump(at, vision);
    for (size_t turn = 1; turn <= turns; turn++) {
        double w = middle_at(fade, turn), share = share_at(fade, w);
        double off = fabs(position_at(&path, share) - w / width_to(fade, turns));
        departure = fmax(departure, off);
        if (turn == look.departure_turn)
            assert_within(look.departure, off, 2e-4);
    }
    for (size_t turn = 0; turn <= turns; turn++) {
        Lab here = lab_by(vision, mixed(fade->old, fade->new, share_at(fade, middle_at(fade, turn))));
        Lab next = lab_by(vision, mixed(fade->old, fade->new, share_at(fade, middle_at(fade, turn + 1))));
        jump = fmax(jump, ciede2000(here, next));
        if (turn == look.jump_turn)
            assert_within(look.jump, ciede2000(here, next), 1e-5);
    }
    assert_within(look.departure, departure, 2e-4);
    assert_within(look.jump, jump, 1e-5);
    assert_within(look.difference, ciede2000(lab_by(vision, fade->old), lab_by(vision, fade->new)), 1e-12);
    assert_true(cheap.jump == look.jump && cheap.jump_turn == look.jump_turn
                && cheap.difference == look.difference);
    arena_end(&arena);
}

/* --- fades as the reference writes them out --- */

static char *many(char *turns, char which, int count)
{
    for (int i = 0; i < count; i++)
        *turns++ = which;
    *turns = '\0';
    return turns;
}

/* The new thread in for 1 turn, the old out for n; 2, n - 1; ... n, 1. */
static const char *by_steps(char *turns, int steps)
{
    char *at = turns;
    for (int i = 1; i <= steps; i++) {
        at = many(at, 'n', i);
        at = many(at, 'o', steps + 1 - i);
    }
    return turns;
}

/* After turn i the new thread has made floor(i^2 / 2N + 1/2) of them. */
static const char *evenly(char *turns, int count)
{
    int made = 0;
    char *at = turns;
    for (int i = 1; i <= count; i++) {
        int then = (i * i + count) / (2 * count);
        at = many(at, then > made ? 'n' : 'o', 1);
        made = then;
    }
    return turns;
}

static const char *back_to_front(char *turns, const char *written)
{
    size_t length = strlen(written);
    for (size_t i = 0; i < length; i++)
        turns[i] = written[length - 1 - i] == 'n' ? 'o' : 'n';
    turns[length] = '\0';
    return turns;
}

/* From 2 m by half a minute of arc. */
static const double usual_blur = 2000 * (PI / 180 / 120);

typedef struct Case {
    const char *bench, *place, *turns;
    uint32_t layer, item;
    uint32_t old, new;           /* colours */
    double old_pitch, new_pitch; /* mm */
    double blur;
} Case;

static void check_case(const Case *one)
{
    Compilation *made = compile(one->bench, one->place);
    Written fade = {.turns = one->turns,
                    .old = light_written(one->old),
                    .new = light_written(one->new),
                    .old_pitch = one->old_pitch,
                    .new_pitch = one->new_pitch,
                    .blur = one->blur};
    FadeAt at = fade_of(made, one->layer, one->item);
    for (int vision = 0; vision < VISION_COUNT; vision++)
        check_fade(&at, &fade, (Vision)vision);
    turnlay_free(made);
}

#define NAVY 0x22346b
#define FOAM 0xdfe9ef
#define ROPE 0xc8502c
#define TWO(fade, more) "at 30 cm " more " { band 30 turns of navy  " fade "  band 30 turns of foam }"

static void test_written_fades(void **state)
{
    (void)state;
    char steps[100], even[200], back[200];
    const Case cases[] = {
        {"", TWO("fade to foam steps: 4", ""), by_steps(steps, 4), 0, 1, NAVY, FOAM, 0.15, 0.15, usual_blur},
        {"", TWO("fade to foam steps: 4", "toward: butt"), steps, 0, 1, NAVY, FOAM, 0.15, 0.15, usual_blur},
        {"", TWO("fade to foam steps: 4", "from: tip"), steps, 0, 1, NAVY, FOAM, 0.15, 0.15, usual_blur},
        {"far: 5 m sight: 0.8", TWO("fade to foam steps: 4", ""), steps, 0, 1, NAVY, FOAM, 0.15, 0.15,
         usual_blur * 4},
        {"far: 50 cm", TWO("fade to foam steps: 4", ""), steps, 0, 1, NAVY, FOAM, 0.15, 0.15, usual_blur / 4},
        {"", TWO("fade to foam over: 25 turns", ""), evenly(even, 25), 0, 1, NAVY, FOAM, 0.15, 0.15, usual_blur},
        {"", TWO("fade to foam over: 2 turns", ""), "on", 0, 1, NAVY, FOAM, 0.15, 0.15, usual_blur},
        {"", TWO("fade to foam runs: [in 3 out 5, in 1 out 1, in 2 out 1]", ""), "nnnooooononno", 0, 1, NAVY, FOAM,
         0.15, 0.15, usual_blur},
        {"", "at 30 cm { band 30 turns of navy  fade to rope steps: 4  band 30 turns of rope }", steps, 0, 1, NAVY,
         ROPE, 0.15, 0.4, usual_blur},
        {"",
         "at 30 cm { mirror { band 30 turns of navy  fade to rope runs: [in 3 out 5, in 1 out 1, in 2 out 1]  band 30 turns of rope } }",
         back_to_front(back, "nnnooooononno"), 0, 1, ROPE, NAVY, 0.4, 0.15, usual_blur},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        check_case(&cases[i]);
}

/* What lies below shows through, a variegated thread is its mean. */
static void test_shades(void **state)
{
    (void)state;
    char steps[100];
    Three navy = light_written(NAVY), foam = light_written(FOAM), rope = light_written(ROPE),
          blank = light_written(0x3f4a2b);
    const struct {
        const char *place;
        uint32_t layer;
        Three new;
        double pitch;
    } cases[] = {
        {"at 30 cm { band 30 turns of navy  fade to haze steps: 4  band 30 turns of haze }", 0,
         mixed(blank, foam, 0.4), 0.15},
        {"at 30 cm length: 15 mm { under { band fill of rope } over { band 30 turns of navy  fade to haze steps: 4  band 30 turns of haze } }",
         1, mixed(rope, foam, 0.4), 0.15},
        /* below the fade's middle, and nowhere else */
        {"at 30 cm length: 15 mm { under { band 5 mm of foam  band 2 mm of rope  band fill of foam } over { band 30 turns of navy  fade to haze steps: 4  band 30 turns of haze } }",
         1, mixed(rope, foam, 0.4), 0.15},
        {"at 30 cm { band 30 turns of navy  fade to dusk steps: 4  band 30 turns of dusk }", 0,
         light_written(0xbcbcbc), 0.15},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *made = compile("", cases[i].place);
        Written fade = {by_steps(steps, 4), navy, cases[i].new, 0.15, cases[i].pitch, usual_blur};
        FadeAt at = fade_of(made, cases[i].layer, 1);
        FadeShades shades = fade_shades(&at);
        for (int which = 0; which < 3; which++) {
            assert_within((&shades.from.red)[which], navy.of[which], 1e-9);
            assert_within((&shades.to.red)[which], cases[i].new.of[which], 1e-9);
        }
        check_fade(&at, &fade, VISION_ALL_CONES);
        turnlay_free(made);
    }
}

/* Stripes by their widths: of `steps: 2`, 1 in, 2 out, 2 in, 1 out, those of 1 and 2, of 2 and 2, of 2 and 1. */
static void test_stripes(void **state)
{
    (void)state;
    Compilation *made = compile("near: 50 cm", TWO("fade to foam steps: 2", ""));
    FadeAt at = fade_of(made, 0, 1);
    double new = xyz_of(light_of(FOAM)).y, old = xyz_of(light_of(NAVY)).y;
    double most =
        fmax(stripes_visible(new, old, 1.0 / 3, 0.45, 500), stripes_visible(new, old, 1.0 / 2, 0.6, 500));
    most = fmax(most, stripes_visible(new, old, 2.0 / 3, 0.45, 500));
    assert_near(fade_look(&at, VISION_ALL_CONES).stripes, most, 1e-9);
    Light seen = light_seen(VISION_PROTANOPIA, light_of(FOAM)),
          seen_old = light_seen(VISION_PROTANOPIA, light_of(NAVY));
    new = xyz_of(seen).y, old = xyz_of(seen_old).y;
    most = fmax(stripes_visible(new, old, 1.0 / 3, 0.45, 500), stripes_visible(new, old, 1.0 / 2, 0.6, 500));
    most = fmax(most, stripes_visible(new, old, 2.0 / 3, 0.45, 500));
    assert_near(fade_look(&at, VISION_PROTANOPIA).stripes, most, 1e-9);
    turnlay_free(made);
    made = compile("near: 50 cm", TWO("fade to rope runs: [in 4 out 1, in 1 out 6]", ""));
    at = fade_of(made, 0, 1);
    new = xyz_of(light_of(ROPE)).y, old = xyz_of(light_of(NAVY)).y;
    const double widths[] = {1.6, 0.15, 0.4, 0.9};
    most = 0;
    for (int i = 0; i < 3; i++) {
        double period = widths[i] + widths[i + 1];
        most = fmax(most, stripes_visible(new, old, widths[i + i % 2] / period, period, 500));
    }
    assert_near(fade_look(&at, VISION_ALL_CONES).stripes, most, 1e-9);
    turnlay_free(made);
}

/* Whether a change of thread lies within six blurs of the turn's middle. */
static bool is_near_an_edge(const Written *fade, uint32_t turn)
{
    double w = middle_at(fade, turn), x = 0;
    size_t turns = strlen(fade->turns);
    for (size_t i = 0; i <= turns; x += i < turns ? pitch_at(fade, i) : 0, i++) {
        bool edge = i == 0 || i == turns || fade->turns[i] != fade->turns[i - 1];
        if (edge && fabs(x - w) < 6 * fade->blur)
            return true;
    }
    return false;
}

/* All turns by the second way, though not all are looked at. */
static void check_what_is_passed_over(const char *bench, const char *place, const Written *fade,
                                      uint32_t most_turns, uint32_t passed_over)
{
    Compilation *made = compile(bench, place);
    FadeAt at = fade_of(made, 0, 1);
    FadeLook look = fade_look(&at, VISION_ALL_CONES);
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    FadeCourse course = fade_course(&arena, &at, VISION_ALL_CONES);
    uint32_t turns = (uint32_t)strlen(fade->turns), missing = 0;
    assert_true(course.count <= most_turns);
    for (uint32_t turn = 1, next = 1; turn <= turns; turn++) {
        bool here = next < course.count && course.turns[next].turn == turn;
        next += here;
        missing += !here && is_near_an_edge(fade, turn);
    }
    assert_int_equal(missing, passed_over);
    assert_int_equal(course.turns[0].turn, 0);
    assert_int_equal(course.turns[course.count - 2].turn, turns);
    assert_int_equal(course.turns[course.count - 1].turn, turns + 1);
    static Chords path;
    measure_path(&path, fade, VISION_ALL_CONES);
    for (uint32_t i = 0; i < course.count; i++) {
        assert_true(i == 0 || course.turns[i].turn > course.turns[i - 1].turn);
        check_turn(fade, &course.turns[i], &at, VISION_ALL_CONES, &path);
    }
    double departure = 0;
    for (uint32_t turn = 1; turn <= turns; turn++) {
        double w = middle_at(fade, turn);
        departure = fmax(departure, fabs(position_at(&path, share_at(fade, w)) - w / width_to(fade, turns)));
    }
    double jump = largest_jump(fade);
    assert_within(look.departure, departure, 0.002);
    assert_within(look.jump, jump, 0.02 * jump);
    arena_end(&arena);
    turnlay_free(made);
}

static void test_what_is_passed_over(void **state)
{
    (void)state;
    char turns[2000], *at = turns;
    at = many(at, 'n', 300);
    at = many(at, 'o', 500);
    at = many(at, 'n', 1);
    many(at, 'o', 200);
    Written fade = {turns, light_written(NAVY), light_written(FOAM), 0.15, 0.15, usual_blur};
    check_what_is_passed_over("", TWO("fade to foam runs: [in 300 out 500, in 1 out 200]", ""), &fade, 100, 0);
    fade.blur = usual_blur * 8; /* 15 turns */
    check_what_is_passed_over("far: 16 m", TWO("fade to foam runs: [in 300 out 500, in 1 out 200]", ""), &fade,
                              800, 0);
    fade.blur = 12000 * tan(5 * PI / 180 / 60); /* 116 turns, of which one in 7 is looked at, and the next */
    fade.turns = evenly(turns, 400);
    check_what_is_passed_over("far: 12 m sight: 5", TWO("fade to foam over: 400 turns", ""), &fade, 117,
                              402 - 117);
}

/* Turns of the old shade, as two runs of a fade that was measured half way would be: of two widths. The turns
 * beside the fade are as wide as those of its next run of their shade. */
static void test_measured_fades(void **state)
{
    (void)state;
    Compilation *made = compile("", TWO("fade to foam runs: [in 3 out 4, in 2 out 1]", ""));
    FadeAt at = fade_of(made, 0, 1);
    PlannedLayer layer = at.place->layers[0];
    PlannedPlace place = *at.place;
    PlannedItem item = layer.items[1];
    Run runs[5];
    const struct {
        RunRole role;
        uint32_t turns;
        double pitch;
    } laid[] = {{RUN_FADE_IN, 3, 0.16},
                {RUN_FADE_OUT, 1, 0.17},
                {RUN_FADE_OUT, 3, 0.15},
                {RUN_FADE_IN, 2, 0.14},
                {RUN_FADE_OUT, 1, 0.15}};
    double x = 340;
    for (int i = 0; i < 5; i++) {
        runs[i] = layer.runs[item.first_run];
        runs[i].role = laid[i].role;
        runs[i].turns = laid[i].turns;
        runs[i].pitch = laid[i].pitch;
        runs[i].start = x;
        runs[i].end = x += laid[i].turns * laid[i].pitch;
    }
    item.first_run = 0;
    item.run_count = 5;
    item.obtained = x - 340;
    layer.runs = runs;
    layer.run_count = 5;
    layer.items = &item;
    place.layers = &layer;
    at.place = &place;
    at.item = 0;
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    const double widths[] = {0.48, 0.62, 0.28, 0.15};
    double y_new = xyz_of(light_of(FOAM)).y, y_old = xyz_of(light_of(NAVY)).y, most = 0;
    for (int i = 0; i < 3; i++) {
        double period = widths[i] + widths[i + 1];
        most = fmax(most, stripes_visible(y_new, y_old, widths[i + i % 2] / period, period, 600));
    }
    assert_near(fade_look(&at, VISION_ALL_CONES).stripes, most, 1e-9);
    FadeCourse course = fade_course(&arena, &at, VISION_ALL_CONES);
    assert_int_equal(course.count, 12);
    const double middles[] = {-0.085, 0.08, 0.24, 0.40, 0.565, 0.725, 0.875, 1.025, 1.17, 1.31, 1.455, 1.60};
    Three old = light_written(NAVY), new = light_written(FOAM);
    for (int i = 0; i < 12; i++) {
        double w = middles[i],
               share = spread_over(w, 0, 0.48, usual_blur) + spread_over(w, 1.10, 1.38, usual_blur);
        for (int part = 0; part < 15; part++)
            share += spread_over(w, 1.53 + 0.2 * part, 1.73 + 0.2 * part, usual_blur);
        assert_within(course.turns[i].x, 340 + w, 1e-9);
        assert_within(course.turns[i].light.green, mixed(old, new, share).of[1], 1e-8);
    }
    arena_end(&arena);
    turnlay_free(made);
}

/* Equal fades are of one kind, whichever way they are worked and wherever; others are not. */
static void test_kinds(void **state)
{
    (void)state;
    static const struct {
        const char *place;
        uint32_t kind;
    } cases[] = {
        {TWO("fade to foam steps: 4", ""), 0},
        {TWO("fade to foam steps: 4", "toward: butt"), 0},
        {TWO("fade to foam runs: [in 1 out 4, in 2 out 3, in 3 out 2, in 4 out 1]", ""), 0},
        {TWO("fade to foam steps: 3", ""), 1},
        {TWO("fade to foam runs: [in 1 out 4, in 2 out 3, in 3 out 1, in 4 out 2]", ""), 2},
        {TWO("fade to rope steps: 4", ""), 3},
        {"at 30 cm { band 30 turns of foam  fade to navy steps: 4  band 30 turns of navy }", 4},
        {"at 30 cm { mirror { band 30 turns of foam  fade to navy steps: 4  band 30 turns of navy } }", 0},
        {TWO("fade to foam steps: 3", "toward: butt"), 1},
    };
    enum { COUNT = sizeof cases / sizeof *cases };
    Compilation *made[COUNT];
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    FadeKinds kinds = {.known.arena = &arena};
    for (int i = 0; i < COUNT; i++) {
        made[i] = compile("", cases[i].place);
        FadeAt at = fade_of(made[i], 0, 1);
        assert_int_equal(fade_kind(&kinds, &at), cases[i].kind);
    }
    assert_int_equal(kinds.known.list.count, 5);
    for (int i = 0; i < COUNT; i++)
        turnlay_free(made[i]);
    arena_end(&arena);
}

static void test_words(void **state)
{
    (void)state;
    static const struct {
        double far, limit;
        FadeLook look;
        const char *words;
    } cases[] = {
        {2000,
         3,
         {.departure = 0.0801, .jump = 1.801, .jump_turn = 3, .difference = 9},
         "from 2 m: off by at most 9 % of the way; largest jump 1.81; above 3 shows as a line"},
        {600,
         3,
         {.departure = 0.08, .jump = 3, .jump_turn = 3, .difference = 9},
         "from 0.6 m: off by at most 8 % of the way; largest jump 3; above 3 shows as a line"},
        {2000,
         2.5,
         {.departure = 0.4, .jump = 2.501, .jump_turn = 3, .difference = 9},
         "from 2 m: off by at most 40 % of the way; a line shows between the fade's turns 3 and 4: the jump there is 2.51, above 2.5"},
        {2000,
         3,
         {.departure = 0.4, .jump = 7, .jump_turn = 0, .difference = 9},
         "from 2 m: off by at most 40 % of the way; a line shows before the fade's first turn: the jump there is 7, above 3"},
        {2000,
         3,
         {.departure = 0.4, .jump = 7, .jump_turn = 20, .difference = 9},
         "from 2 m: off by at most 40 % of the way; a line shows behind the fade's last turn: the jump there is 7, above 3"},
        {2000,
         3,
         {.departure = 0.4, .jump = 0.7, .jump_turn = 20, .difference = 1.9},
         "from 2 m: its two shades look the same"},
        {2000,
         3,
         {.departure = 0.4, .jump = 0.7, .jump_turn = 20, .difference = 2},
         "from 2 m: off by at most 40 % of the way; largest jump 0.7; above 3 shows as a line"},
    };
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Bench bench = {.far = cases[i].far, .jump = cases[i].limit, .alike = 2};
        assert_string_equal(evenness_words(&arena, &bench, &cases[i].look, 20), cases[i].words);
    }
    arena_end(&arena);
}

/* Nothing is said of threads without a colour, and of what is no fade. */
static void test_what_is_seen(void **state)
{
    (void)state;
    Compilation *made = compile(
        "",
        "at 30 cm { band 30 turns of navy  fade to foam steps: 4  band 30 turns of dusk  fade to grey steps: 3  band 30 turns of grey }");
    PlannedItem *items = made->plan->rods[0].places[0].layers[0].items;
    const bool seen[] = {false, true, false, false, false};
    for (int i = 0; i < 5; i++)
        assert_int_equal(fade_is_seen(&items[i]), seen[i]);
    items[3].from = items[3].to;
    assert_false(fade_is_seen(&items[3]));
    items[1].run_count = 0;
    assert_false(fade_is_seen(&items[1]));
    turnlay_free(made);
}

static const Finding *found(const Compilation *c, FindingCode code)
{
    const Finding *last = NULL;
    for (uint32_t i = 0; i < c->findings.list.count; i++)
        if (c->findings.list.items[i].code == code)
            last = &c->findings.list.items[i];
    return last;
}

#define FADE(from, how, to)                                                                                       \
    "at 30 cm { band 30 turns of " from "  fade to " to " " how "  band 30 turns of " to " }"
#define LINE "seen from 2 m, a line will show "
#define NAVY_TURNS "between turns 4 and 5 of this fade: both are navy, but foam mixes in"

/* Notes about lines: "" of none. */
static void test_lines_are_found(void **state)
{
    (void)state;
    static const struct {
        const char *bench, *place, *message, *label, *mend, *edit;
        unsigned times;
    } cases[] = {
        {"", FADE("navy", "steps: 4", "foam"), LINE NAVY_TURNS,
         "from navy to foam; the two turns differ by 5.55 (CIEDE2000), above 3 it shows",
         "fade to haze first, which lies between, and put a shade near #5a647d as it lies here between navy and haze, and fade to each in 4 steps, or, where a line may show, write `jump: 5.6` in bench { }",
         " jump: 5.6,", 1},
        {"jump: 5.55", FADE("navy", "steps: 4", "foam"), "", "", "", "", 0},
        {"jump: 5.54", FADE("navy", "steps: 4", "foam"), LINE NAVY_TURNS,
         "from navy to foam; the two turns differ by 5.55 (CIEDE2000), above 5.54 it shows",
         "fade to dusk first, which lies between, and fade to each in 4 steps, or, where a line may show, write `jump: 5.6` in bench { }",
         "5.6", 1},
        {"jump: 1.8", FADE("navy", "steps: 4", "foam"), LINE NAVY_TURNS,
         "from navy to foam; the two turns differ by 5.55 (CIEDE2000), above 1.8 it shows",
         "fade to haze first, which lies between, and put shades near #475275 and #6e7787 as they lie here between navy and haze, and fade to each in 4 steps, or, where a line may show, write `jump: 5.6` in bench { }",
         "5.6", 1},
        {"jump: 2.5", FADE("navy", "steps: 4", "foam"), LINE NAVY_TURNS, NULL,
         "fade to haze first, which lies between, and put a shade near #5a647d as it lies here between navy and haze, and fade to each in 4 steps, or, where a line may show, write `jump: 5.6` in bench { }",
         "5.6", 1},
        /* more than any jump that a bench may allow */
        {"jump: 100, far: 10 cm, sight: 0.1", FADE("blue", "runs: [in 9 out 1]", "gold"),
         "seen from 0.1 m, a line will show before the first turn of this fade", NULL,
         "fade to dusk first, which lies between, and fade to each in 4 steps", NULL, 1},
        {"far: 10 m", FADE("navy", "steps: 4", "foam"), "", "", "", "", 0},
        {"far: 5 ft units: in jump: 5", FADE("navy", "steps: 4", "foam"),
         "seen from 60 in, a line will show " NAVY_TURNS, NULL, NULL, NULL, 1},
        {"sight: 1.5", FADE("navy", "steps: 4", "foam"), "", "", "", "", 0},
        {"", FADE("navy", "runs: [in 9 out 1]", "foam"), LINE "before the first turn of this fade", NULL, NULL,
         NULL, 1},
        {"", FADE("foam", "runs: [in 1 out 9]", "navy"), LINE "behind the last turn of this fade", NULL, NULL,
         NULL, 1},
        {"", FADE("navy", "steps: 4", "grey"), "", "", "", "", 0},
        {"", FADE("grey", "steps: 4", "navy"), "", "", "", "", 0},
        {"", "at 30 cm { repeat 3 { band 30 turns of navy  fade to foam steps: 4  band 30 turns of foam } }",
         LINE NAVY_TURNS, NULL, NULL, NULL, 3},
        {"", "at 30 cm { mirror { band 30 turns of foam  fade to navy steps: 4  band 30 turns of navy } }",
         LINE NAVY_TURNS, NULL, NULL, NULL, 1},
    };
    char steps[100];
    Written fade = {by_steps(steps, 4), light_written(NAVY), light_written(FOAM), 0.15, 0.15, usual_blur};
    assert_within(largest_jump(&fade), 5.545, 0.005); /* as it is said, rounded up */
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *made = compile(cases[i].bench, cases[i].place);
        const Finding *line = found(made, FINDING_FADE_SHOWS_A_LINE);
        assert_string_equal(line ? line->message : "", cases[i].message);
        if (line && cases[i].label)
            assert_string_equal(line->at.label, cases[i].label);
        if (line && cases[i].mend)
            assert_string_equal(line->mend, cases[i].mend);
        if (line && cases[i].edit)
            assert_string_equal(line->edit.text, cases[i].edit);
        if (line)
            assert_string_equal(line->rod, "R");
        if (line)
            assert_int_equal(line->has_edit, strstr(line->mend, "write") != NULL);
        assert_int_equal(line ? line->times : 0, cases[i].times);
        assert_null(found(made, FINDING_SHADES_ALIKE));
        turnlay_free(made);
    }
}

/* Of the shades of one statement the worst pair. */
static void test_the_worst_of_a_statement(void **state)
{
    (void)state;
    Compilation *made = compile("jump: 1", "at 30 cm { fade 40 mm of [navy, foam, rope, haze] steps: 4 }");
    const Finding *line = found(made, FINDING_FADE_SHOWS_A_LINE);
    assert_non_null(line);
    assert_int_equal(line->times, 3);
    double most = 0;
    for (uint32_t i = 0; i < 7; i++) {
        FadeAt at = fade_of(made, 0, i);
        if (at.place->layers[0].items[i].to)
            most = fmax(most, fade_jump(&at, VISION_ALL_CONES).jump);
    }
    char wanted[100];
    snprintf(wanted, sizeof wanted, "turns differ by %g (CIEDE2000)", ceil(most * 100) / 100);
    assert_non_null(strstr(line->at.label, wanted));
    turnlay_free(made);
}

/* What is chosen by eye is off by as much as the plan says, of several places the most; turns are as wide there as
 * they are, not as wide as their mean. */
static void test_off_as_the_plan_says(void **state)
{
    (void)state;
    static const char *const places[] = {
        "at 30 cm { band 30 turns of navy  fade to foam over: 36 turns by: eye  band 30 turns of foam }",
        "at 30 cm { band 30 turns of navy  fade to rope over: 36 turns by: eye  band 30 turns of rope }",
        "for x in [0 cm, 20 cm] { at 30 cm + x { band 30 turns of navy  fade to rope over: 36 turns by: eye  band 30 turns of rope } }",
        "at 30 cm { for s in [foam, rope, blue] { band 9 turns of navy  fade to s over: 36 turns by: eye  band 30 turns of s } }",
        "at 30 cm { fade 90 turns of [navy, rope, foam, gold] steps: 3 by: eye }",
        "at 30 cm { mirror { band 30 turns of navy  fade to rope over: 30 turns by: eye } }",
    };
    bool differs = false;
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        Compilation *made = compile("", places[i]);
        double off = 0, chosen = 0;
        const PlannedRod *rod = &made->plan->rods[0];
        for (uint32_t p = 0; p < rod->place_count; p++)
            for (uint32_t item = 0; item < rod->places[p].layers[0].item_count; item++) {
                uint32_t number = rod->places[p].layers[0].items[item].chosen;
                if (!number)
                    continue;
                FadeAt at = {&made->job->bench, rod->rod, &rod->places[p], 0, item};
                off = fmax(off, fade_look(&at, VISION_ALL_CONES).departure);
                chosen = fmax(chosen, turns_chosen(made->plan->chosen, number)->departure);
            }
        char wanted[100];
        snprintf(wanted, sizeof wanted, "turns chosen by eye: off by %g %% of the way", ceil(off * 100));
        const Finding *finding = found(made, FINDING_FADE_CHOSEN);
        assert_non_null(finding);
        if (strncmp(finding->message, wanted, strlen(wanted)))
            print_error("%s: %s, not %s\n", places[i], finding->message, wanted);
        assert_memory_equal(finding->message, wanted, strlen(wanted));
        differs |= ceil(off * 100) != ceil(chosen * 100);
        turnlay_free(made);
    }
    assert_true(differs);
}

static void test_shades_alike_are_found(void **state)
{
    (void)state;
    static const struct {
        const char *bench, *label, *mend, *edit;
    } cases[] = {
        {"", "as they lie here they differ by 1.09 (CIEDE2000); shades differ from 2 on",
         "use another shade, or leave this fade out; if you can see the two apart, write `alike: 1` in bench { }",
         " alike: 1,"},
        {"alike: 1.1", "as they lie here they differ by 1.09 (CIEDE2000); shades differ from 1.1 on",
         "use another shade, or leave this fade out; if you can see the two apart, write `alike: 1` in bench { }",
         "1"},
        {"alike: 1.1, jump: 0.1", "as they lie here they differ by 1.09 (CIEDE2000); shades differ from 1.1 on",
         "use another shade, or leave this fade out; if you can see the two apart, write `alike: 1` in bench { }",
         "1"},
        {"alike: 1.09", NULL, NULL, NULL},
        {"alike: 0", NULL, NULL, NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *made = compile(cases[i].bench, FADE("navy", "steps: 4", "plum"));
        const Finding *alike = found(made, FINDING_SHADES_ALIKE);
        if (cases[i].label) {
            assert_non_null(alike);
            assert_string_equal(alike->message, "navy and plum look the same");
            assert_string_equal(alike->at.label, cases[i].label);
            assert_string_equal(alike->mend, cases[i].mend);
            assert_string_equal(alike->edit.text, cases[i].edit);
            assert_string_equal(alike->rod, "R");
        } else {
            assert_null(alike);
        }
        assert_null(found(made, FINDING_FADE_SHOWS_A_LINE));
        turnlay_free(made);
    }
}

/* What nobody can see has no place. */
static void test_equal_shades(void **state)
{
    (void)state;
    Compilation *made = compile("", FADE("navy", "steps: 4", "twin"));
    FadeAt at = fade_of(made, 0, 1);
    FadeLook look = fade_look(&at, VISION_ALL_CONES);
    assert_true(look.jump == 0 && look.jump_turn == 0 && look.difference == 0 && look.stripes == 0);
    assert_non_null(strstr(found(made, FINDING_SHADES_ALIKE)->mend, "`alike: 0`"));
    turnlay_free(made);
}

/* To the thread that runs already: that is told as such, and no more (T213). */
static void test_fade_to_itself(void **state)
{
    (void)state;
    Compilation *made = compile("", FADE("navy", "steps: 4", "navy"));
    assert_non_null(found(made, FINDING_FADE_TO_ITSELF));
    assert_null(found(made, FINDING_SHADES_ALIKE));
    turnlay_free(made);
}

/* Kinds that differ by a turn, more than a table begins with. */
static void test_many_kinds(void **state)
{
    (void)state;
    enum { COUNT = 90 };
    Compilation *made = compile("ridge: 90", TWO("fade to foam runs: [in 5 out 5, in 5 out 5]", ""));
    FadeAt at = fade_of(made, 0, 1);
    PlannedLayer *layer = &at.place->layers[0];
    Run *runs = &layer->runs[layer->items[1].first_run];
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    /* a plan of its own for each */
    FadeKinds kinds = {.known.arena = &arena};
    for (int again = 0; again < 2; again++)
        for (uint32_t i = 0; i < COUNT; i++) {
            PlannedPlace *place = arena_copy(&arena, at.place, sizeof *at.place);
            PlannedLayer *own = place->layers = arena_copy(&arena, layer, sizeof *layer);
            own->runs = arena_copy(&arena, layer->runs, layer->run_count * sizeof *layer->runs);
            own->runs[runs - layer->runs + i % 4].turns = 5 + i / 4;
            FadeAt other = {at.bench, at.rod, place, 0, 1};
            uint32_t kind = fade_kind(&kinds, &other);
            assert_int_equal(kind, i < 4 ? 0 : i - 3);
        }
    assert_int_equal(kinds.known.list.count, COUNT - 3);
    arena_end(&arena);
    turnlay_free(made);
}

/* So many turns of fades are looked at, equal ones once. */
static void test_no_more_than_is_looked_at(void **state)
{
    (void)state;
    Compilation *made = compile("", TWO("fade to foam steps: 4", ""));
    FadeAt at = fade_of(made, 0, 1);
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    for (int more = 0; more < 2; more++) {
        FadeKinds kinds = {.known.arena = &arena, .turns = 1000000 - 20 + (uint64_t)more};
        assert_int_equal(fade_kind(&kinds, &at), more ? NO_KIND : 0);
        assert_int_equal(fade_kind(&kinds, &at), more ? NO_KIND : 0);
        assert_int_equal(kinds.known.list.count, !more);
        assert_int_equal(kinds.turns, more ? 1000001 - 20 : 1000000);
    }
    arena_end(&arena);
    turnlay_free(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_written_fades),
        cmocka_unit_test(test_shades),
        cmocka_unit_test(test_stripes),
        cmocka_unit_test(test_what_is_passed_over),
        cmocka_unit_test(test_measured_fades),
        cmocka_unit_test(test_kinds),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_what_is_seen),
        cmocka_unit_test(test_lines_are_found),
        cmocka_unit_test(test_the_worst_of_a_statement),
        cmocka_unit_test(test_off_as_the_plan_says),
        cmocka_unit_test(test_shades_alike_are_found),
        cmocka_unit_test(test_no_more_than_is_looked_at),
        cmocka_unit_test(test_equal_shades),
        cmocka_unit_test(test_fade_to_itself),
        cmocka_unit_test(test_many_kinds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
