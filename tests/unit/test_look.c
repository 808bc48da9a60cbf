/* What colour a place's surface has: layer on layer by the closed formula, worked out here a second time. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "near.h"
#include "plan/look.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define NAVY 0x22346b
#define HAZE 0xdfe9ef
#define RUST 0xc8502c
#define BLANK 0x3f4a2b
#define OTHER 0x805030
#define SLEEVE 0x909090

static const char head[] = "edition 1\n"
                           "thread navy { turns: 20 per cm, colour: #22346b }\n"
                           "thread haze { turns: 20 per cm, colour: #dfe9ef, opacity: 40 % }\n"
                           "thread rust { turns: 10 per cm, colour: #c8502c, opacity: 75 % }\n"
                           "bench { units: mm, ends: pins, ridge: 20, holders: 3 }\n"
                           "blank butt_piece { colour: #3f4a2b, at 0 mm: 12 mm  at 100 cm: 9 mm }\n"
                           "blank tip_piece { colour: #805030, at 0 mm: 9 mm  at 100 cm: 4 mm }\n";

static Compilation *compile(const char *blank, const char *statements)
{
    char text[4096];
    int length = snprintf(text, sizeof text, "%srod \"R\" on %s { %s }", head, blank, statements);
    Compilation *compilation = compilation_new(0);
    turnlay_give(compilation, "test.lay", text, (size_t)length);
    while (turnlay_want(compilation).path)
        turnlay_give(compilation, "none.lay", "edition 1\n", 10);
    if (turnlay_finish(compilation) != TURNLAY_DONE)
        fail_msg("%s: %s", compilation->findings.list.items[0].message, statements);
    return compilation;
}

/* Light of one channel, 0 for blue to 2 for red, of a colour: IEC 61966-2-1. */
static double channel(uint32_t colour, int which)
{
    double code = (colour >> 8 * which & 0xff) / 255.0;
    return code <= 0.04045 ? code / 12.92 : exp(2.4 * log((code + 0.055) / 1.055));
}

static double channel_of(Light light, int which)
{
    return which == 2 ? light.red : which == 1 ? light.green : light.blue;
}

typedef struct Coat {
    uint32_t colour;
    double hides; /* of the light below, in the mean of a turn */
} Coat;

/* Coats on a ground, the lowest first, up to one that hides nothing and has no colour. */
static void check_look(const Compilation *c, uint32_t place, uint32_t layers, double x, uint32_t ground,
                       const Coat *coats)
{
    const PlannedRod *rod = &c->plan->rods[0];
    Light look = look_at(rod->rod, &rod->places[place], layers, x);
    for (int which = 0; which < 3; which++) {
        double light = channel(ground, which);
        for (const Coat *coat = coats; coat->colour || coat->hides > 0; coat++)
            light = coat->hides * channel(coat->colour, which) + (1 - coat->hides) * light;
        assert_near(channel_of(look, which), light, 1e-12);
    }
}

static void test_layers_on_layers(void **state)
{
    (void)state;
    for (int tipward = 0; tipward < 2; tipward++) {
        char places[512];
        snprintf(places, sizeof places,
                 "at 30 cm toward: %s length: 40 mm { under { band 20 mm of navy  gap 5 mm  band 15 mm of rust }"
                 " over offset: 4 mm { band 6 mm of haze  band 20 mm of rust  band 8 mm of haze } }",
                 tipward ? "tip" : "butt");
        Compilation *c = compile("butt_piece", places);
        double way = tipward ? 1 : -1;
        check_look(c, 0, 2, 300 + way * 2, BLANK, (Coat[]){{NAVY, 1}, {0, 0}});
        check_look(c, 0, 2, 300 + way * 5, BLANK, (Coat[]){{NAVY, 1}, {HAZE, 0.4}, {0, 0}});
        check_look(c, 0, 1, 300 + way * 5, BLANK, (Coat[]){{NAVY, 1}, {0, 0}});
        check_look(c, 0, 0, 300 + way * 5, BLANK, (Coat[]){{0, 0}});
        check_look(c, 0, 2, 300 + way * 22, BLANK, (Coat[]){{RUST, 0.75}, {0, 0}});
        check_look(c, 0, 2, 300 + way * 36, BLANK, (Coat[]){{RUST, 0.75}, {HAZE, 0.4}, {0, 0}});
        check_look(c, 0, 2, 300 - way, BLANK, (Coat[]){{0, 0}});
        check_look(c, 0, 2, 300 + way * 41, BLANK, (Coat[]){{0, 0}});
        turnlay_free(c);
    }
}

/* Each thread of several hides its share of a turn; a spacer hides nothing. Turns of navy and haze take half as
 * much as one of rust. */
static void test_threads_together(void **state)
{
    (void)state;
    Compilation *c = compile("butt_piece", "at 30 cm { band 10 turns of [navy, haze, rust] }"
                                           " at 40 cm { band 10 turns of [navy, spacer(rust)] }");
    const PlannedRod *rod = &c->plan->rods[0];
    Light all = look_at(rod->rod, &rod->places[0], 1, 305), spaced = look_at(rod->rod, &rod->places[1], 1, 405);
    for (int which = 0; which < 3; which++) {
        double ground = channel(BLANK, which);
        double haze = 0.4 * channel(HAZE, which) + 0.6 * ground,
               rust = 0.75 * channel(RUST, which) + 0.25 * ground;
        assert_near(channel_of(all, which), 0.25 * channel(NAVY, which) + 0.25 * haze + 0.5 * rust, 1e-12);
        assert_near(channel_of(spaced, which), channel(NAVY, which) / 3 + ground * 2 / 3, 1e-12);
    }
    turnlay_free(c);
}

/* The lowest ground: sections, parts that thread lies on, wraps of another place. */
static void test_grounds(void **state)
{
    (void)state;
    static const Coat none[] = {{0, 0}}, haze[] = {{HAZE, 0.4}, {0, 0}};
    Compilation *c =
        compile("[butt_piece, tip_piece]", "at 30 cm { band 20 mm of haze } at 150 cm { band 20 mm of haze }");
    check_look(c, 0, 1, 310, BLANK, haze);
    check_look(c, 1, 1, 1510, OTHER, haze);
    check_look(c, 1, 0, 1510, OTHER, none);
    turnlay_free(c);
    c = compile(
        "butt_piece",
        "part sleeve at 30 cm length: 30 mm { wrapped: yes, colour: #909090, diameter: 12 mm }"
        " part bare at 40 cm length: 30 mm { wrapped: yes, diameter: 12 mm }"
        " part grip at 0 mm length: 10 cm { colour: #101010 }"
        " at 30 cm { band 20 mm of haze } at 40 cm { band 20 mm of haze } at 12 cm { band 20 mm of haze }");
    check_look(c, 0, 1, 310, SLEEVE, haze);
    check_look(c, 0, 0, 325, SLEEVE, none);
    check_look(c, 1, 1, 410, BLANK, haze);
    check_look(c, 2, 0, 50, BLANK, none); /* a part that no thread lies on is none */
    turnlay_free(c);
    c = compile("butt_piece", "at 30 cm length: 80 mm { under { band fill of navy }"
                              " chevron crossings: 3 ends: 10 turns of rust { strand 1 of haze } }"
                              " at 33 cm { band 10 mm of haze }");
    check_look(c, 1, 1, 335, BLANK, (Coat[]){{NAVY, 1}, {HAZE, 0.4}, {0, 0}});
    check_look(c, 0, 2, 302, BLANK, (Coat[]){{NAVY, 1}, {RUST, 0.75}, {0, 0}});
    check_look(c, 0, 2, 335, BLANK, (Coat[]){{NAVY, 1}, {0, 0}});
    turnlay_free(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_layers_on_layers),
        cmocka_unit_test(test_threads_together),
        cmocka_unit_test(test_grounds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
