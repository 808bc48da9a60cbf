/* Places that loops, cases, patterns and series lay are those that could have been written one by one: the same
 * plan, byte for byte apart from lines; and what stands where it cannot is told of. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HEAD                                                                                                      \
    "edition 1\nbench { units: mm }\nthread navy { turns: 67 per cm }\nthread mist { turns: 66 per cm }\n"        \
    "blank tube { at 0 mm: 12 mm  at 30 cm: 9 mm  at 100 cm: 4 mm }\n"                                            \
    "blank thin { at 0 mm: 9 mm  at 100 cm: 2 mm }\n"                                                             \
    "guide ring { foot: [16 mm, 16 mm], gap: 8 mm, width: 2.2 mm, height: 0.8 mm, ramp: 5 mm, before: 3 mm }\n"   \
    "guide single { foot: 12 mm }\n"                                                                              \
    "pattern foot(main: thread, edge: turns = 10 turns) { band edge of mist  band fill of main }\n"

static Compilation *compiled(const char *text)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    assert_int_equal(turnlay_give(made, "tried.lay", text, strlen(text)), TURNLAY_DONE);
    assert_null(turnlay_want(made).path);
    if (turnlay_finish(made) == TURNLAY_OUT_OF_MEMORY)
        fail_msg("the machine has no memory left");
    return made;
}

/* What is left out of a plan: where in the text all stands, the number worked out from it, and findings. */
static void leave_out_lines(char *plan)
{
    char *out = plan;
    for (const char *at = plan; *at; at++) {
        if (strncmp(at, "\"at\": {", 7) == 0)
            at += strcspn(at, "}");
        else if (strncmp(at, "\"line\": ", 8) == 0 || strncmp(at, "\"file_id\": ", 11) == 0)
            at += strcspn(at, ",}") - 1;
        else
            *out++ = *at;
    }
    *out = 0;
    char *findings = strstr(plan, "\"findings\": [");
    assert_non_null(findings);
    *findings = 0;
}

static char *plan_of(const char *text)
{
    Compilation *made = compiled(text);
    TurnlayText page;
    if (turnlay_write_plan(made, TURNLAY_JSON, &page) != TURNLAY_DONE)
        fail_msg("%s\n%s", made->findings.list.count ? made->findings.list.items[0].message : "no page", text);
    char *plan = strdup(page.bytes);
    turnlay_text_free(&page);
    turnlay_free(made);
    leave_out_lines(plan);
    return plan;
}

/* With the declarations before them. */
static void assert_same_plan(const char *one, const char *other)
{
    char first[8000], second[8000];
    snprintf(first, sizeof first, HEAD "%s", one);
    snprintf(second, sizeof second, HEAD "%s", other);
    char *plan = plan_of(first), *meant = plan_of(second);
    if (strcmp(plan, meant) != 0) {
        size_t at = 0;
        while (plan[at] == meant[at])
            at++;
        at = at > 200 ? at - 200 : 0;
        fail_msg("%s\n--\n%.400s\n-- not as\n%s\n--\n%.400s", one, plan + at, other, meant + at);
    }
    free(plan);
    free(meant);
}

#define ROD(places) "rod \"A\" on tube { " places " }\n"

static const struct {
    const char *written, *meant;
} same[] = {
    /* the guide behind the mark */
    {ROD("at 20 cm: ring { foot(navy) }"), ROD("at 20 cm guide: ring { foot(navy) }")},
    {ROD("at 20 cm: ring from: tip { foot(navy) }"), ROD("at 20 cm from: tip guide: ring { foot(navy) }")},
    /* loops, cases, values and requirements in a rod */
    {ROD("for i in 1 to 3 { at i * 10 cm { band i * 10 turns of navy } }"),
     ROD("at 10 cm { band 10 turns of navy } at 20 cm { band 20 turns of navy } at 30 cm { band 30 turns of navy }")},
    {ROD("for m in [30 cm, 10 cm] { at m: ring { foot(navy) } }"),
     ROD("at 30 cm: ring { foot(navy) } at 10 cm: ring { foot(navy) }")},
    {ROD("for i in 1 to 0 { at i * 10 cm { band 20 turns of navy } } at 50 cm { band 20 turns of navy }"),
     ROD("at 50 cm { band 20 turns of navy }")},
    {ROD("let m = 10 cm  let wide = 2 * 10 turns  require m < 20 cm, \"near\"  at m { band wide of navy }"),
     ROD("at 10 cm { band 20 turns of navy }")},
    {ROD("let m = 10 cm  for i in 1 to 2 { let m = m * i  at m { band 20 turns of navy } } at m + 5 cm length: 20 mm { "
         "foot(navy, edge: 7 turns) }"),
     ROD("at 10 cm { band 20 turns of navy } at 20 cm { band 20 turns of navy } at 15 cm length: 20 mm { foot(navy, 7 turns) }")},
    {ROD("if no { at 10 cm { gap 3 mm } } else if yes { at 20 cm { band 20 turns of navy } } else { at 30 cm { gap 3 mm } }"),
     ROD("at 20 cm { band 20 turns of navy }")},
    /* patterns that hold places */
    {"pattern tip(wide: turns) { at 5 mm from: tip { band wide of navy } }\n"
     "rod \"A\" on tube { tip(20 turns) }\nrod \"B\" on thin { tip(wide: 30 turns) }\n",
     "rod \"A\" on tube { at 5 mm from: tip { band 20 turns of navy } }\n"
     "rod \"B\" on thin { at 5 mm from: tip { band 30 turns of navy } }\n"},
    {"pattern one(m: length) { at m { foot2() band 30 turns of navy } }\n"
     "pattern all(first: length) { for i in 1 to 2 { one(first * i) } one(5 cm) }\n"
     "pattern foot2() { band 12 turns of mist }\n" ROD("all(first: 10 cm) at 90 cm { foot2() }"),
     ROD("at 10 cm { band 12 turns of mist band 30 turns of navy } at 20 cm { band 12 turns of mist band 30 turns of navy }"
         "at 5 cm { band 12 turns of mist band 30 turns of navy } at 90 cm { band 12 turns of mist }")},
    /* patterns that hold layers */
    {"pattern coats(wide: turns) { under { band 30 turns of mist } over offset: 1 mm { band wide of navy } }\n" ROD(
         "at 10 cm { coats(20 turns) } at 20 cm: ring { coats(70 turns) }"),
     ROD("at 10 cm { under { band 30 turns of mist } over offset: 1 mm { band 20 turns of navy } }"
         "at 20 cm: ring { under { band 30 turns of mist } over offset: 1 mm { band 70 turns of navy } }")},
    {"pattern windows() { under { band fill of mist } diamond crossings: 3 ends: 14 turns of navy { strand 2 of navy } }\n" ROD(
         "at 10 cm length: 6 cm { windows() }"),
     ROD("at 10 cm length: 6 cm { under { band fill of mist } diamond crossings: 3 ends: 14 turns of navy { strand 2 of "
         "navy } }")},
    {"pattern crossed() { diamond crossings: 3 ends: 14 turns of navy { strand 2 of navy } }\n" ROD(
         "at 10 cm length: 6 cm { under { band fill of mist } crossed() }"),
     ROD("at 10 cm length: 6 cm { under { band fill of mist } diamond crossings: 3 ends: 14 turns of navy { strand 2 of "
         "navy } }")},
    /* series */
    {ROD("series { at 10 cm at 20 cm { band 40 turns of mist } band 20 turns of navy }"),
     ROD("at 10 cm { band 20 turns of navy } at 20 cm { band 40 turns of mist }")},
    {ROD("series from: tip { at 5 cm: single at [15 cm, 30 cm]: ring  at 50 cm: ring { foot(mist) } foot(navy) }"),
     ROD("at 5 cm: single from: tip { foot(navy) } at 15 cm: ring from: tip { foot(navy) }"
         "at 30 cm: ring from: tip { foot(navy) } at 50 cm: ring from: tip { foot(mist) }")},
    {ROD("series length: 30 mm toward: butt angle: 30 deg { at 10 cm  at 20 cm length: 20 mm toward: tip  at 30 cm: ring "
         "foot(navy) }"),
     ROD("at 10 cm length: 30 mm toward: butt angle: 30 deg { foot(navy) }"
         "at 20 cm length: 20 mm toward: tip angle: 30 deg { foot(navy) } at 30 cm: ring angle: 30 deg { foot(navy) }")},
    {ROD("series guide: ring { at [10 cm, 20 cm]  at 30 cm: single  at 40 cm length: 30 mm  foot(navy) }"),
     ROD("at 10 cm: ring { foot(navy) } at 20 cm: ring { foot(navy) } at 30 cm: single { foot(navy) }"
         "at 40 cm length: 30 mm { foot(navy) }")},
    {ROD("series { under { band fill of mist } at [10 cm, 20 cm]: ring  over offset: 1 mm { foot(navy) } }"),
     ROD("at 10 cm: ring { under { band fill of mist } over offset: 1 mm { foot(navy) } }"
         "at 20 cm: ring { under { band fill of mist } over offset: 1 mm { foot(navy) } }")},
    /* rows in loops and cases; the locals of each are those where it stands */
    {ROD("series { let marks = [10 cm, 20 cm]  for i in 1 to 2 { let m = i * 5 cm  at m + 30 cm { band 10 * i turns of "
         "navy } } at marks  if yes { at 60 cm } else { at 70 cm } band 20 turns of navy }"),
     ROD("at 35 cm { band 10 turns of navy } at 40 cm { band 20 turns of navy } at 10 cm { band 20 turns of navy }"
         "at 20 cm { band 20 turns of navy } at 60 cm { band 20 turns of navy }")},
    {ROD("series { for i in 1 to 0 { at i * 10 cm } band 20 turns of navy } at 5 cm { band 20 turns of navy }"),
     ROD("at 5 cm { band 20 turns of navy }")},
    /* what is known at each place */
    {ROD("series { at [10 cm, 20 cm, 40 cm]  if here.number == 1 { band 30 turns of mist } else if here.number == "
         "here.count { band 50 turns of mist } else { band 40 turns of mist } }"),
     ROD("at 10 cm { band 30 turns of mist } at 20 cm { band 40 turns of mist } at 40 cm { band 50 turns of mist }")},
    {ROD("series length: 3 * here.diameter { at [0 cm, 30 cm, 65 cm]  foot(navy) }"),
     ROD("at 0 cm length: 36 mm { foot(navy) } at 30 cm length: 27 mm { foot(navy) } at 65 cm length: 19.5 mm { "
         "foot(navy) }")},
    {ROD("series { at [10 cm, 20 cm] length: 10 mm + 10 mm * here.number  band here.foot of navy }"),
     ROD("at 10 cm length: 20 mm { band 20 mm of navy } at 20 cm length: 30 mm { band 30 mm of navy }")},
    {ROD("series { at 10 cm: single  at 20 cm: ring  band here.foot of navy }"),
     ROD("at 10 cm: single { band 12 mm of navy } at 20 cm: ring { band 16 mm of navy }")},
    /* a foot of 12 mm with its ring at 312 mm has its outer end 300 mm from the butt, or 324 mm */
    {"guide back { foot: 12 mm, side: butt }\n" ROD(
         "series { at 312 mm: back  at 312 mm + 10 cm: single  band here.diameter of navy }"),
     "guide back { foot: 12 mm, side: butt }\n" ROD(
         "at 312 mm: back { band 9 mm of navy } at 412 mm: single { band 9 mm - 124 mm * 5 / 700 of navy }")},
    /* locals that rest on it, also where a row has braces of its own */
    {ROD("series { let wide = here.number * 10 turns  let more = wide + 5 turns  at 10 cm  at 20 cm { band more of mist } "
         "at 40 cm  band wide of navy  at 30 cm { let more = 2 * wide  band more of navy } band more of mist }"),
     ROD("at 10 cm { band 10 turns of navy  band 15 turns of mist } at 20 cm { band 25 turns of mist }"
         "at 40 cm { band 30 turns of navy  band 35 turns of mist } at 30 cm { band 80 turns of navy }")},
    {ROD("series { at 10 cm  at 20 cm  for i in 1 to here.number + 1 { band i * 10 turns of navy  gap 2 mm } }"),
     ROD("at 10 cm { for i in 1 to 2 { band i * 10 turns of navy  gap 2 mm } }"
         "at 20 cm { for i in 1 to 3 { band i * 10 turns of navy  gap 2 mm } }")},
    /* what comes behind a call of a pattern reads on */
    {"pattern plain() { let wide = 10 turns  band wide of mist }\n" ROD(
         "series length: 50 mm { let wide = here.number * 10 turns  at [10 cm, 20 cm]  plain()  band wide of navy  if "
         "here.foot > 1 mm { gap 1 mm } at 40 cm: single { plain()  band wide of navy } }"),
     ROD("at 10 cm length: 50 mm { band 10 turns of mist  band 10 turns of navy  gap 1 mm }"
         "at 20 cm length: 50 mm { band 10 turns of mist  band 20 turns of navy  gap 1 mm }"
         "at 40 cm: single { band 10 turns of mist  band 30 turns of navy }")},
    {ROD("series length: 50 mm { at [10 cm, 20 cm]  if here.foot > 1 mm { plain() }  let wide = here.number * 10 turns  band "
         "wide of navy }") "pattern plain() { let wide = 10 turns  band wide of mist }\n",
     ROD("at 10 cm length: 50 mm { band 10 turns of mist  band 10 turns of navy }"
         "at 20 cm length: 50 mm { band 10 turns of mist  band 20 turns of navy }")},
    /* layers in the second case alone */
    {ROD("at 10 cm { if no { let a = 3 } else if yes { under { band 20 turns of mist } } else { let b = 4 } over { band 20 "
         "turns of navy } }"),
     ROD("at 10 cm { under { band 20 turns of mist } over { band 20 turns of navy } }")},
    {ROD("series { if no { let a = 3 } else { at 10 cm } band 20 turns of navy }"),
     ROD("at 10 cm { band 20 turns of navy }")},
    /* by rule: gaps of 100, 150, 225 and 337.5 mm come to 812.5 */
    {ROD("series first: 10 cm last: 91.25 cm progression: 150 % count: 5 { band 20 turns of navy }"),
     ROD("at 10 cm { band 20 turns of navy } at 20 cm { band 20 turns of navy } at 35 cm { band 20 turns of navy }"
         "at 57.5 cm { band 20 turns of navy } at 91.25 cm { band 20 turns of navy }")},
    {ROD("series from: tip first: 10 cm last: 70.4 cm guides: [single, single, ring, ring] { at 85 cm: ring  foot(navy, "
         "edge: here.number * 2 turns) }"),
     ROD("at 10 cm: single from: tip { foot(navy, edge: 2 turns) } at 30.1 cm: single from: tip { foot(navy, 4 turns) }"
         "at 50.3 cm: ring from: tip { foot(navy, 6 turns) } at 70.4 cm: ring from: tip { foot(navy, 8 turns) }"
         "at 85 cm: ring from: tip { foot(navy, 10 turns) }")},
    {ROD("let all = [single, ring]  series first: 60 cm last: 10 cm guides: all { foot(navy) }"),
     ROD("at 60 cm: single { foot(navy) } at 10 cm: ring { foot(navy) }")},
    {ROD("series guide: ring first: 60 cm last: 10 cm count: 3 progression: 100 % { foot(navy) }"),
     ROD("at 60 cm: ring { foot(navy) } at 35 cm: ring { foot(navy) } at 10 cm: ring { foot(navy) }")},
    {ROD("series first: 10 cm last: 50 cm count: 3 length: 20 mm toward: butt { foot(navy) }"),
     ROD("at 10 cm length: 20 mm toward: butt { foot(navy) } at 30 cm length: 20 mm toward: butt { foot(navy) }"
         "at 50 cm length: 20 mm toward: butt { foot(navy) }")},
    /* in a pattern */
    {"pattern rings(count: count, apart: length) { series from: tip { for i in 1 to count { at i * apart: ring } "
     "foot(navy, edge: here.number * 10 turns) } }\n" ROD("rings(2, 15 cm)"),
     ROD("at 15 cm: ring from: tip { foot(navy, 10 turns) } at 30 cm: ring from: tip { foot(navy, 20 turns) }")},
    /* layers in loops and cases */
    {ROD("at 10 cm { let wide = 20 turns  for t in [navy, mist] { over { band wide of t } } }"),
     ROD("at 10 cm { over { band 20 turns of navy } over { band 20 turns of mist } }")},
    {ROD("at 10 cm { if yes { under { band 20 turns of mist } } over { band 20 turns of navy } }"),
     ROD("at 10 cm { under { band 20 turns of mist } over { band 20 turns of navy } }")},
    {ROD("at 10 cm { if no { under { band 20 turns of mist } } else { over { band 20 turns of navy } } }"),
     ROD("at 10 cm { over { band 20 turns of navy } }")},
};

static void test_laid_as_written_out(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof same / sizeof *same; i++)
        assert_same_plan(same[i].written, same[i].meant);
}

/* Code and first words of each finding of error level, in order. */
static const struct {
    const char *text;
    const char *told[4];
} wrong[] = {
    {ROD("band 20 turns of navy  gap 2 mm"),
     {"T113 `band` begins a statement, which stands in a place or a pattern"}},
    {ROD("under { band 20 turns of navy }"), {"T113 `under` begins a layer, which stands in a place"}},
    {ROD("foot(navy)"), {"T113 `foot` holds turns, which stand in a place"}},
    {ROD("for i in 1 to 3 { band 20 turns of navy }"),
     {"T113 `band` begins a statement, which stands in a place or a pattern"}},
    {ROD("at 10 cm { at 20 cm { band 20 turns of navy } }"), {"T113 `at` begins a place, which stands in a rod"}},
    {ROD("at 10 cm { under { over { band 20 turns of navy } } }"),
     {"T113 `over` begins a layer, which stands in a place"}},
    {"pattern tip() { at 5 mm { band 20 turns of navy } }\n" ROD("at 10 cm { tip() }"),
     {"T113 `tip` holds places, which stand in a rod"}},
    {"pattern tip() { at 5 mm { band 20 turns of navy } }\n" ROD("at 10 cm { over { tip() } }"),
     {"T113 `tip` holds places, which stand in a rod"}},
    {"pattern coats() { under { band 20 turns of navy } over { band 20 turns of navy } }\n" ROD("coats()"),
     {"T113 `coats` holds layers, which stand in a place"}},
    {"pattern coats() { under { band 20 turns of navy } over { band 20 turns of navy } }\n" ROD(
         "at 10 cm { over { coats() } }"),
     {"T113 `coats` holds layers, which stand in a place"}},
    {"pattern both() { at 5 mm { band 20 turns of navy } band 20 turns of mist  if yes { gap 2 mm } }\n" ROD(
         "both()"),
     {"T113 a pattern holds places, or what is wound at one place; not both"}},
    {"pattern both() { if yes { gap 2 mm } else { over { gap 2 mm } } at 5 mm { band 20 turns of navy } }\n" ROD(
         "both()"),
     {"T113 a pattern holds places, or what is wound at one place; not both"}},
    {"pattern coats() { under { band 20 turns of navy } }\n"
     "pattern both() { at 5 mm { band 20 turns of navy } coats() if yes { coats() } }\n" ROD("both()"),
     {"T113 a pattern holds places, or what is wound at one place; not both"}},
    {"pattern coats() { under { band 20 turns of navy } }\n"
     "pattern both() { coats() at 5 mm { band 20 turns of navy } }\n" ROD("both()"),
     {"T113 a pattern holds places, or what is wound at one place; not both"}},
    {"pattern both() { under { band 20 turns of navy } band 20 turns of mist }\n" ROD("at 5 cm { both() }"),
     {"T113 beside `over`, `under` or a crosswrap all turns of a place stand in layers"}},
    {"pattern coats() { under { band 20 turns of navy } }\n" ROD("at 5 cm { coats() band 20 turns of mist }"),
     {"T113 beside `over`, `under` or a crosswrap all turns of a place stand in layers"}},
    {ROD("at 5 cm { if yes { band 20 turns of mist } over { band 20 turns of navy } }"),
     {"T113 beside `over`, `under` or a crosswrap all turns of a place stand in layers"}},
    {"pattern tip(m: length) { require m > 10 cm, \"too near\"  at m { band 20 turns of navy } }\n" ROD(
         "tip(5 cm)"),
     {"T205 too near"}},
    {ROD("require 2 > 3, \"no\"  at 10 cm { band 20 turns of nothing }"),
     {"T205 no", "T101 `nothing` is not declared"}},
    {ROD("series { at 20 cm: ring { foot(navy) } at 30 cm: navy { foot(navy) } }"),
     {"T104 `guide` has to be a guide, not a thread"}},
    {ROD("series { at 10 cm { series { at 20 cm } } }"), {"T113 `series` begins a series, which stands in a rod"}},
    {ROD("at 10 cm { series { at 20 cm } }"), {"T113 `series` begins a series, which stands in a rod"}},
    {ROD("series { series { at 20 cm } band 20 turns of navy }"),
     {"T113 `series` begins a series, which stands in a rod"}},
    {"pattern tip() { at 5 mm { band 20 turns of navy } }\n" ROD("series { tip() }"),
     {"T113 `tip` holds places, which stand in a rod"}},
    {ROD("series { under { band fill of navy } at 10 cm length: 20 mm  band fill of mist }"),
     {"T113 beside `over`, `under` or a crosswrap all turns of a place stand in layers"}},
    {ROD("at 10 cm { band here.diameter of navy }"),
     {"T113 `here.diameter` is known in the braces of a series alone"}},
    {"pattern wide() { band here.diameter of navy }\n" ROD("series { at 10 cm  wide() }"),
     {"T113 a pattern knows nothing of the place it is laid at"}},
    {ROD("series { at 10 cm  band here.diametre of navy }"), {"T101 there is no `here.diametre`"}},
    {ROD("series { at 10 cm * here.number  band 20 turns of navy }"),
     {"T113 where the places of a series lie is settled before anything is known of `here`"}},
    {ROD("series { let m = 10 cm * here.number  at m  band 20 turns of navy }"),
     {"T113 where the places of a series lie is settled before anything is known of `here`"}},
    {ROD("series { if here.number > 1 { at 10 cm } band 20 turns of navy }"),
     {"T113 where the places of a series lie is settled before anything is known of `here`"}},
    {ROD("series { if no { gap 1 mm } else if here.foot > 1 mm { at 10 cm } band 20 turns of navy }"),
     {"T113 where the places of a series lie is settled before anything is known of `here`"}},
    {ROD("series { for i in 1 to here.count { at i * 10 cm } band 20 turns of navy }"),
     {"T113 where the places of a series lie is settled before anything is known of `here`"}},
    {ROD("series { at 10 cm  band here.foot of navy }"),
     {"T109 this place has no guide and no length, and `here.foot` is asked for"}},
    {ROD("series { at 10 cm  band 20 turns of nothing }"), {"T101 `nothing` is not declared"}},
    {ROD("series { at [10 cm, 20]  band 20 turns of navy }"),
     {"T106 all values of a list have to be of one kind"}},
    {ROD("series { at [10 turns, 20 turns]  band 20 turns of navy }"), {"T104 a place's mark has to be"}},
    {ROD("series { at 10 cm length: 20 mm toward: up  at 20 cm: ring toward: tip  foot(navy) }"),
     {"T115 ", "T114 `guide` and `toward` cannot be used together"}},
    {ROD("series guide: ring toward: tip { at 20 cm  foot(navy) }"),
     {"T114 `guide` and `toward` cannot be used together"}},
    {ROD("series first: 10 cm count: 3 { band 20 turns of navy }"), {"T109 say where the last place lies"}},
    {ROD("series last: 10 cm count: 3 { band 20 turns of navy }"), {"T109 say where the first place lies"}},
    {ROD("series first: 10 cm last: 50 cm { band 20 turns of navy }"), {"T109 say how many places there are"}},
    {ROD("series progression: 110 % { at 10 cm  band 20 turns of navy }"),
     {"T109 say where the first place lies"}},
    {ROD("series first: 10 cm last: 50 cm count: 1 { band 20 turns of navy }"), {"T203 this number is too small"}},
    {ROD("series first: 10 cm last: 50 cm guides: [ring] { foot(navy) }"),
     {"T203 a spacing needs at least 2 guides"}},
    {ROD("series first: 10 cm last: 50 cm guides: [ring, ring] count: 2 { foot(navy) }"),
     {"T114 `guides` and `count` cannot be used together"}},
    {ROD("series first: 10 cm last: 50 cm guides: [ring, ring] guide: ring { foot(navy) }"),
     {"T114 `guides` and `guide` cannot be used together"}},
    {ROD("series first: 10 cm last: 50 cm guides: [ring, navy] { foot(navy) }"),
     {"T106 all values of a list have to be of one kind"}},
    {ROD("series first: 10 cm last: 50 cm progression: 40 % count: 3 { band 20 turns of navy }"),
     {"T203 `progression` is at least 0.5"}},
    {ROD("series first: 10 cm last: 50 cm * here.number count: 3 { band 20 turns of navy }"),
     {"T113 where the places of a series lie is settled before anything is known of `here`"}},
    {ROD("series first: 10 cm last: 50 count: 3 { band 20 turns of navy }"), {"T105 `last` needs a unit"}},
    {ROD("at 10 cm first: 3 cm { band 20 turns of navy }"), {"T107 a place has no option `first`"}},
    /* what rests on something broken, or stands beside it, is not told of twice */
    {ROD("at 5 cm { let x = 1 mm / 0  over { band 2 turns of navy } }"), {"T201 this divides by zero"}},
    {ROD("at 10 cm { at 20 cm { band 20 turns of navy } band 2 turns of mist }"),
     {"T113 `at` begins a place, which stands in a rod"}},
    {ROD("at 5 cm { for i in 1 to 20000 { over { gap 1 mm } } }"), {"T904 this place has more than 64 layers"}},
    {ROD("series { require here.number > 1, \"not the first\"  at [10 cm, 20 cm]  band 20 turns of navy }"),
     {"T205 not the first"}},
    {ROD("at 20 cm: ring guide: single { foot(navy) }"), {"T108 the guide is given twice"}},
    {ROD("at 20 cm: ring toward: tip { foot(navy) }"), {"T114 `guide` and `toward` cannot be used together"}},
    {ROD("at 10 cm length: 2 cm { band fill of bare }"), {"T101 `bare` is not declared"}},
    {ROD("at 20 cm: navy { foot(navy) }"), {"T104 `guide` has to be a guide, not a thread"}},
};

static void test_told_where_they_cannot_stand(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        char text[8000];
        snprintf(text, sizeof text, HEAD "%s", wrong[i].text);
        Compilation *made = compiled(text);
        unsigned told = 0;
        for (uint32_t j = 0; j < made->findings.list.count; j++) {
            const Finding *finding = &made->findings.list.items[j];
            if (finding->severity != SEVERITY_ERROR)
                continue;
            char words[400];
            snprintf(words, sizeof words, "%s %s", finding_code_text(finding->code), finding->message);
            const char *meant = told < 4 ? wrong[i].told[told] : NULL;
            if (!meant || strncmp(words, meant, strlen(meant)) != 0)
                fail_msg("%s\nis told\n%s\nnot\n%s", wrong[i].text, words, meant ? meant : "nothing");
            told++;
        }
        if (told < 4 && wrong[i].told[told])
            fail_msg("%s\nis not told\n%s", wrong[i].text, wrong[i].told[told]);
        TurnlayPlace lost;
        assert_int_equal(turnlay_lost(made, &lost), TURNLAY_DONE);
        turnlay_free(made);
    }
}

/* The way out of a call that stands where it cannot. */
static void test_where_to_call(void **state)
{
    (void)state;
    static const struct {
        const char *text, *mend;
    } cases[] = {
        {ROD("plain()"), "put it into a place, as in `at 60 cm { ... }`"},
        {ROD("coats()"), "put it into a place, as in `at 60 cm { ... }`"},
        {ROD("at 20 cm { over { coats() } }"), "call it directly in the braces of a place"},
        {ROD("at 20 cm { tip() }"), "call it in the braces of a rod, or of a pattern that a rod calls"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[8000];
        snprintf(text, sizeof text,
                 HEAD "pattern plain() { band 20 turns of navy }\n"
                      "pattern coats() { under { band 20 turns of navy } over { band 20 turns of navy } }\n"
                      "pattern tip() { at 5 mm { band 20 turns of navy } }\n%s",
                 cases[i].text);
        Compilation *made = compiled(text);
        assert_true(made->findings.list.count > 0);
        assert_string_equal(made->findings.list.items[0].mend, cases[i].mend);
        turnlay_free(made);
    }
}

/* What is read of the foot is read of each foot of a guide; the one toward the butt comes first. */
static void test_each_foot_apart(void **state)
{
    (void)state;
    static const struct {
        const char *body;
        double widths[2]; /* mm, toward the butt first */
        unsigned layers[2];
    } feet[] = {
        {"band here.foot - 1 mm of navy", {11, 19}, {1, 1}},
        {"let wide = here.foot / 2  let more = wide + 1 mm  band more of navy", {7, 11}, {1, 1}},
        /* outer ends 284 mm and 324 mm from the butt */
        {"band here.diameter of navy", {12 - 0.01 * 284, 9 - 5. / 700 * 24}, {1, 1}},
        {"at 50 cm { gap 1 mm } if here.foot > 15 mm { under { band 5 mm of mist } } over { band 8 mm of navy }",
         {8, 5},
         {1, 2}},
        {"band 10 turns * here.number of navy", {10 / 6.7, 10 / 6.7}, {1, 1}},
    };
    for (unsigned i = 0; i < sizeof feet / sizeof *feet; i++) {
        char text[4000];
        snprintf(
            text, sizeof text,
            HEAD
            "guide two { foot: [12 mm, 20 mm], gap: 8 mm }\nrod \"A\" on tube { series { at 30 cm: two  %s } }\n",
            feet[i].body);
        Compilation *made = compiled(text);
        const PlannedRod *rod = &made->plan->rods[0];
        for (unsigned foot = 0; foot < 2; foot++) {
            assert_int_equal(rod->places[foot].layer_count, feet[i].layers[foot]);
            double width = rod->places[foot].layers[0].width;
            if (width < feet[i].widths[foot] - 0.08 || width > feet[i].widths[foot] + 0.08) /* half a turn */
                fail_msg("%s\nfoot %u: %f mm, not %f mm", feet[i].body, foot, width, feet[i].widths[foot]);
        }
        turnlay_free(made);
    }
}

/* A full turn round is none, also where the machine's fractions come to just below one. */
static void test_angles_of_places(void **state)
{
    (void)state;
    static const struct {
        const char *angle;
        double turns;
    } angles[] = {
        {"0 deg", 0},           {"90 deg", 0.25},  {"-90 deg", 0.75}, {"360 deg", 0},
        {"-360 deg", 0},        {"450 deg", 0.25}, {"3600 deg", 0},   {"-1 deg / 1000000000000 / 1000000", 0},
        {"359 deg", 359. / 360}};
    for (unsigned i = 0; i < sizeof angles / sizeof *angles; i++) {
        char text[4000];
        snprintf(text, sizeof text, HEAD ROD("at 10 cm angle: %s { band 20 turns of navy }"), angles[i].angle);
        Compilation *made = compiled(text);
        double turns = made->job->rods[0].places[0].angle;
        if (!(turns >= 0 && turns < 1) || turns < angles[i].turns - 1e-12 || turns > angles[i].turns + 1e-12)
            fail_msg("%s: %.17g turns", angles[i].angle, turns);
        turnlay_free(made);
    }
}

/* A file that goes by the name `here` is meant, also in a series. */
static void test_here_may_be_a_file(void **state)
{
    (void)state;
    assert_same_plan("use \"held\" as here { let number = 30 turns }\n" ROD(
                         "series { at [10 cm, 20 cm]  band here.number of navy }"),
                     "use \"held\" as here { let number = 30 turns }\n" ROD(
                         "at 10 cm { band 30 turns of navy } at 20 cm { band 30 turns of navy }"));
}

/* In inches marks by rule lie at sixteenths. */
static void test_spaced_in_inches(void **state)
{
    (void)state;
    Compilation *made = compiled(
        "edition 1\nthread navy { turns: 170 per in }\nblank tube { at 0 in: 1/2 in  at 80 in: 1/8 in }\n"
        "rod \"A\" on tube { series first: 4 in last: 31 in count: 4 progression: 112 % { band 40 turns of navy } }\n");
    const Rod *rod = &made->job->rods[0];
    assert_int_equal(rod->place_count, 4);
    /* gaps of 8.0014, 8.9615 and 10.0369 in */
    static const double marks[] = {4, 12, 20 + 15. / 16, 31};
    for (unsigned i = 0; i < 4; i++)
        if (rod->places[i].mark / 25.4 < marks[i] - 1e-9 || rod->places[i].mark / 25.4 > marks[i] + 1e-9)
            fail_msg("place %u at %f in", i, rod->places[i].mark / 25.4);
    turnlay_free(made);
}

/* However many locals rest on one another, nothing is deep and nothing grows with their square. */
static void test_many_locals_that_rest_on_here(void **state)
{
    (void)state;
    enum { COUNT = 100000 };
    char *text = malloc(COUNT * 40 + 1000), *end = text;
    end += sprintf(end, "%srod \"A\" on tube { series {\nlet a0 = here.number * 20 turns\n", HEAD);
    for (int i = 1; i < COUNT; i++)
        end += sprintf(end, "let a%d = a%d\n", i, i - 1);
    sprintf(end, "at [10 cm, 20 cm] { band a%d of navy }\nat 30 cm\nband a%d of navy } }\n", COUNT - 1, COUNT - 1);
    Compilation *made = compiled(text);
    if (made->findings.errors)
        fail_msg("%s", made->findings.list.items[0].message);
    assert_int_equal(made->plan->turns, 20 + 40 + 60);
    turnlay_free(made);
    free(text);
}

/* A length that several rows share, or a mark that several rods do, is changed by no mend for one of them. */
static void test_shared_words_are_left_alone(void **state)
{
    (void)state;
    static const struct {
        const char *text, *shared; /* the words that no edit may stand in */
    } cases[] = {
        {ROD("series length: 3 mm { at [10 cm, 20 cm]  band 40 turns of navy }"), "3 mm {"},
        {ROD("series length: 9 mm { at 10 cm  at 20 cm  band 60 turns of navy  band fill of mist }"), "9 mm {"},
        {"pattern tip() { at 1 mm from: tip { band 40 turns of navy } }\n" ROD(
             "tip()") "rod \"B\" on thin { tip() }\n",
         "1 mm from"},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[4000];
        snprintf(text, sizeof text, HEAD "%s", cases[i].text);
        Compilation *made = compiled(text);
        uint32_t at = (uint32_t)(strstr(text, cases[i].shared) - text);
        assert_true(made->findings.errors > 0);
        for (uint32_t j = 0; j < made->findings.list.count; j++) {
            const Finding *finding = &made->findings.list.items[j];
            if (finding->has_edit && finding->edit.span.start <= at && at < finding->edit.span.end)
                fail_msg("%s: %s", finding->message, finding->edit.text);
        }
        turnlay_free(made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_laid_as_written_out),
        cmocka_unit_test(test_each_foot_apart),
        cmocka_unit_test(test_angles_of_places),
        cmocka_unit_test(test_here_may_be_a_file),
        cmocka_unit_test(test_spaced_in_inches),
        cmocka_unit_test(test_many_locals_that_rest_on_here),
        cmocka_unit_test(test_shared_words_are_left_alone),
        cmocka_unit_test(test_told_where_they_cannot_stand),
        cmocka_unit_test(test_where_to_call),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
