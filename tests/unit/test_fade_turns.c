/* Fades by eye: what is chosen once, kept as `runs:` or not, and told of it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/limits.h"
#include "compilation.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SHOP(bench)                                                                                               \
    "edition 1\nthread navy { turns: 67 per cm, colour: #22346b }\nthread mist { turns: 60 per cm, colour: "      \
    "#9db8d6 }\nthread foam { turns: 67 per cm, colour: #dfe9ef }\nthread haze { turns: 67 per cm, colour: "      \
    "#dfe9ef, opacity: 0.4 }\nthread plain { turns: 67 per cm }\nbench { units: mm, " bench " }\nblank tube { "   \
    "at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
#define ROD(body) SHOP("hand: 99 m") "rod \"Eye\" on tube { at 20 cm length: 90 mm {\n" body "\n} }\n"

static Compilation *finished(const char *text, TurnlayStatus wanted)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    assert_int_equal(turnlay_give(made, "eye.lay", text, strlen(text)), TURNLAY_DONE);
    TurnlayStatus status = turnlay_finish(made);
    if (status != wanted)
        fail_msg("%s\n%s", made->findings.list.count ? made->findings.list.items[0].message : "no finding", text);
    return made;
}

static Compilation *compiled(const char *text) { return finished(text, TURNLAY_DONE); }

static const PlannedLayer *layer_of(const Compilation *made, uint32_t place)
{
    return &made->plan->rods[0].places[place].layers[made->plan->rods[0].places[place].layer_count - 1];
}

static const Finding *found(const Compilation *made, FindingCode code)
{
    for (uint32_t i = 0; i < made->findings.list.count; i++)
        if (made->findings.list.items[i].code == code)
            return &made->findings.list.items[i];
    fail_msg("no finding %s", finding_code_text(code));
    return NULL;
}

/* Thread by thread, over all places. */
static const char *runs_of(Compilation *made)
{
    Buffer text;
    buffer_start(&text, &made->arena);
    for (uint32_t p = 0; p < made->plan->rods[0].place_count; p++)
        for (uint32_t r = 0; r < layer_of(made, p)->run_count; r++) {
            const Run *run = &layer_of(made, p)->runs[r];
            buffer_format(&text, " %u %s", (unsigned)run->turns,
                          run->strands ? run->strands->items[0].thread->name->bytes : "bare");
        }
    return buffer_string(&text);
}

static const char *const kept_bodies[] = {
    "band 20 turns of navy  fade to foam steps: 4 by: eye  band 20 turns of foam",
    "band 20 turns of navy  fade to foam by: eye over: 5 mm  band fill of foam",
    "band 20 turns of navy  fade to mist by: eye // why\n over: 31 turns  band 20 turns of mist",
    "mirror { band 20 turns of navy  fade to foam steps: 5 by: eye  band 20 turns of foam }",
    "symmetric { band 20 turns of mist  fade to navy over: 24 turns by: eye  band 20 turns of navy }",
    "repeat 2 { band 20 turns of foam  fade to navy steps: 4 by: eye  band 20 turns of navy }",
    "fade 30 mm of [navy, mist, foam] steps: 4 by: eye",
    "fade 260 turns of [foam, mist, navy] over: 20 turns by: eye",
    "fade fill of [navy, mist, foam] over: 4 mm by: eye",
    "mirror { fade fill of [navy, mist, foam] steps: 3 by: eye }",
    "band 20 turns of navy  fade 60 turns of [navy, mist, foam] by: eye  band 20 turns of foam",
    "band 20 turns of navy  fade to mist steps: 3 by: eye  fade 40 turns of [mist, foam] by: eye  band 20 turns of foam",
    "symmetric { band 20 turns of navy  fade 60 turns of [navy, mist, foam] by: eye  band 20 turns of foam }",
    "let shades = [foam, mist, navy]  fade 30 mm of reverse(shades) steps: 4 by: eye",
    "for shade in [foam, foam] { band 20 turns of navy  fade to shade steps: 4 by: eye  band 20 turns of foam }",
    "if 1 == 1 { band 20 turns of navy  fade to foam steps: 4 by: eye } band 20 turns of foam",
};

/* What is kept has the same turns, and nothing is chosen in it any more. */
static void test_kept(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof kept_bodies / sizeof *kept_bodies; i++) {
        char text[2000];
        snprintf(text, sizeof text, ROD("%s"), kept_bodies[i]);
        Compilation *made = compiled(text);
        TurnlayText kept;
        uint32_t left = 9;
        assert_int_equal(turnlay_write_kept(made, &kept, &left), TURNLAY_DONE);
        assert_int_equal(left, 0);
        if (strstr(kept.bytes, "by: eye"))
            fail_msg("not kept:\n%s", kept.bytes);
        Compilation *again = compiled(kept.bytes);
        if (strcmp(runs_of(again), runs_of(made)) != 0)
            fail_msg("%s\n%s\nkept:\n%s", runs_of(made), runs_of(again), kept.bytes);
        turnlay_text_free(&kept);
        turnlay_free(made);
        turnlay_free(again);
    }
}

typedef struct NotKept {
    const char *text, *mend;
} NotKept;

static void test_not_kept(void **state)
{
    (void)state;
    static const NotKept cases[] = {
        {ROD("for shade in [foam, mist] { band 20 turns of navy  fade to shade steps: 4 by: eye  band 20 turns of shade }"),
         "its turns are not the same wherever it is laid: to keep them, write each of these fades out"},
        {ROD("band 20 turns of mist  fade 40 turns of [navy, foam] by: eye  band 20 turns of foam"),
         "to keep its turns, wind a band of its first thread before it"},
        {ROD("band 20 turns of navy  mirror { fade 40 turns of [navy, foam] by: eye  band 20 turns of foam }  mirror { band 9 "
             "turns of mist  band 9 turns of navy }"),
         "to keep its turns, wind a band of its first thread before it"},
        {ROD("let few = [navy, foam, navy, foam, navy, foam, navy, foam, navy, foam, navy, foam, navy, foam, navy, foam, navy]\n"
             "fade fill of few steps: 2 by: eye"),
         "to keep its turns, write its threads out in square brackets"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *made = compiled(cases[i].text);
        const Finding *finding = found(made, FINDING_FADE_CHOSEN);
        assert_string_equal(finding->mend, cases[i].mend);
        assert_false(finding->has_edit);
        TurnlayText kept;
        uint32_t left = 0;
        assert_int_equal(turnlay_write_kept(made, &kept, &left), TURNLAY_DONE);
        assert_int_equal(left, 1);
        assert_string_equal(kept.bytes + strlen(kept.bytes) - strlen(strstr(cases[i].text, "rod")),
                            strstr(cases[i].text, "rod"));
        turnlay_text_free(&kept);
        turnlay_free(made);
    }
}

/* Fades that are alike are chosen once, whichever way they are worked; all else that is asked makes another. */
static void test_chosen_once(void **state)
{
    (void)state;
    static const struct {
        const char *body;
        bool same;
    } cases[] = {
        {"band 9 turns of navy  fade to foam over: 20 turns by: eye", true},
        {"mirror { band 9 turns of navy  fade to foam over: 20 turns by: eye  band 9 turns of foam }", true},
        {"fade 50 turns of [navy, foam] over: 20 turns by: eye", true},
        {"band 9 turns of navy  fade to foam steps: 4 by: eye", false}, /* it may change less often */
        {"band 9 turns of navy  fade to foam over: 21 turns by: eye", false},
        {"band 9 turns of foam  fade to navy over: 20 turns by: eye", false},
        {"band 9 turns of navy  fade to mist over: 20 turns by: eye", false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[2000];
        snprintf(
            text, sizeof text,
            SHOP(
                "hand: 99 m") "rod \"Eye\" on tube { at 20 cm { band 20 turns of navy  fade to foam over: 20 turns "
                              "by: eye  band 9 turns of foam }\nat 30 cm length: 90 mm { %s  band 9 turns of foam } }\n",
            cases[i].body);
        Compilation *made = compiled(text);
        uint32_t first = layer_of(made, 0)->items[1].chosen, second = layer_of(made, 1)->items[1].chosen;
        assert_true(first && second);
        if ((first == second) != cases[i].same)
            fail_msg("%s", cases[i].body);
        turnlay_free(made);
    }
}

/* A thread that is seen through is seen on what lies below where its layer begins. */
static void test_seen_on_what_is_below(void **state)
{
    (void)state;
    Compilation *made = compiled(SHOP(
        "hand: 99 m") "rod \"Eye\" on tube {\n"
                      "at 20 cm { under { band 60 turns of foam }  over { band 9 turns of navy  fade to haze steps: 4 by: eye } }\n"
                      "at 30 cm { under { band 60 turns of navy }  over { band 9 turns of navy  fade to haze steps: 4 by: eye } }\n"
                      "at 40 cm { under { band 60 turns of navy }  over { band 9 turns of navy  fade to foam steps: 4 by: eye } }\n"
                      "at 50 cm { band 9 turns of navy  fade to foam steps: 4 by: eye } }\n");
    uint32_t chosen[4];
    for (uint32_t p = 0; p < 4; p++)
        chosen[p] = layer_of(made, p)->items[1].chosen;
    assert_int_not_equal(chosen[0], chosen[1]);
    assert_int_equal(chosen[2], chosen[3]);
    const FadeAsked *asked = &turns_chosen(made->plan->chosen, chosen[1])->asked;
    Light navy = light_of(0x22346b), foam = light_of(0xdfe9ef);
    assert_true(fabs(asked->from.red - navy.red) < 1e-12);
    assert_true(fabs(asked->to.red - 0.4 * foam.red - 0.6 * navy.red) < 1e-12);
    turnlay_free(made);
}

/* 1.5 m at 12 mm: (1500 - 300 - 12 p - 42 p) / (12.15 pi) = 31.2, less 6 that bind: 25; 42 turns have a thread
 * with 21. 1 m has 12. */
static void test_turns_in_hand(void **state)
{
    (void)state;
    static const struct {
        const char *bench;
        uint32_t turns;
    } cases[] = {{"hand: 1.5 m", 42},
                 {"hand: 1 m", 12},
                 {"hand: 1 m, free: 10 cm", 14},
                 {"hand: 1 m, bind: 10 turns", 8},
                 {"hand: 1 m, bobbins: 1", 42},
                 {"hand: 0.4 m", 42}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[2000];
        snprintf(
            text, sizeof text,
            SHOP("%s") "rod \"Eye\" on tube { at 20 cm { band 20 turns of navy  fade to foam steps: 6 by: eye  "
                       "band 20 turns of foam } }\n",
            cases[i].bench);
        Compilation *made = compiled(text);
        const ChosenTurns *turns = turns_chosen(made->plan->chosen, layer_of(made, 0)->items[1].chosen);
        if (turns->asked.by_hand != cases[i].turns)
            fail_msg("%s: %u turns", cases[i].bench, (unsigned)turns->asked.by_hand);
        uint32_t fewer = turns->in < 42 - turns->in ? turns->in : 42 - turns->in;
        assert_true(fewer <= cases[i].turns);
        assert_true(turns->departure <= turns->by_count);
        turnlay_free(made);
    }
}

#define MEASURED(over)                                                                                            \
    SHOP("hand: 99 m, measure: 15 turns")                                                                         \
    "rod \"Eye\" on tube { at 20 cm { band 40 turns of navy  fade to mist over: " over                            \
    " by: eye  band 40 turns of mist } }\n"

static const char *chosen_as_runs(Compilation *made)
{
    const ChosenTurns *turns = turns_chosen(made->plan->chosen, layer_of(made, 0)->items[1].chosen);
    Buffer text;
    buffer_start(&text, &made->arena);
    for (uint32_t i = 0; i < turns->run_count; i++)
        buffer_format(&text, " in %u out %u", (unsigned)turns->runs[i].in, (unsigned)turns->runs[i].out);
    return buffer_string(&text);
}

/* Whatever is measured, a fade of so many turns has those that it has in a file where nothing is; and one that is
 * begun keeps its turns. */
static void test_measured(void **state)
{
    (void)state;
    Compilation *plain = compiled(MEASURED("6 mm"));
    uint32_t planned = layer_of(plain, 0)->items[1].turns, fewer = 0, kept = 0;
    for (uint32_t try = 0; try < 6 * 60; try++) {
        Compilation *made = compilation_new(0);
        const char *text = MEASURED("6 mm");
        assert_int_equal(turnlay_give(made, "eye.lay", text, strlen(text)), TURNLAY_DONE);
        /* In some steps nothing is measured, and some of these widths are none that its turns may have. */
        TurnlayMeasured measured = {.step = 1 + try / 6, .width = 2.5 * (1 + try % 6), .sure = true};
        assert_int_equal(turnlay_measure(made, measured), TURNLAY_DONE);
        if (turnlay_finish(made) == TURNLAY_DONE) {
            const PlannedItem *fade = &layer_of(made, 0)->items[1];
            char again[1000];
            snprintf(again, sizeof again, MEASURED("%u turns"), (unsigned)fade->turns);
            Compilation *other = compiled(again);
            assert_string_equal(chosen_as_runs(made), chosen_as_runs(other));
            fewer += fade->turns < planned;
            kept += fade->turns == planned;
            turnlay_free(other);
        }
        turnlay_free(made);
    }
    assert_true(fewer > 0 && kept > 0);
    turnlay_free(plain);
}

/* What is asked of a file in all is limited: further fades are laid by count, and that is known. What was chosen
 * stays. */
static void test_too_many(void **state)
{
    (void)state;
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    if (setjmp(*trap_set(&trap)) != 0)
        fail_msg("the machine has no memory left");
    ChosenFades *chosen = chosen_fades_start(&arena);
    FadeAsked asked = {.from = light_of(0x22346b), .to = light_of(0xdfe9ef), .blur = 2, .shortest = 1};
    asked.turns = asked.by_hand = LIMIT_CHOSEN_TURNS;
    uint32_t most = LIMIT_STEPS / STEPS_A_CHOSEN_TURN / LIMIT_CHOSEN_TURNS;
    for (uint32_t i = 0; i < most; i++) {
        asked.blur = 0.01 * (i + 1); /* little blur is little to search for */
        assert_int_equal(choose_fade_turns(chosen, &asked), i + 1);
    }
    assert_false(too_many_chosen(chosen));
    assert_int_equal(choose_fade_turns(chosen, &asked), most);
    assert_false(too_many_chosen(chosen));
    asked.blur = 1.5;
    uint32_t beyond = choose_fade_turns(chosen, &asked);
    assert_true(too_many_chosen(chosen));
    const ChosenTurns *turns = turns_chosen(chosen, beyond);
    assert_int_equal(turns->run_count, 21); /* by steps: 21 times 22 is below 500 */
    assert_int_equal(turns->runs[0].in, 1);
    asked.blur = 0.01;
    assert_int_equal(choose_fade_turns(chosen, &asked), 1);
    arena_end(&arena);
}

typedef struct Refused {
    const char *body;
    FindingCode code;
    const char *edit;
} Refused;

static void test_refused(void **state)
{
    (void)state;
    static const Refused cases[] = {
        {"band 9 turns of navy  fade to foam steps: 22 by: eye", FINDING_OUT_OF_RANGE, "count"},
        {"band 9 turns of navy  fade to foam over: 501 turns by: eye", FINDING_OUT_OF_RANGE, "count"},
        {"fade 1100 turns of [navy, mist, foam] by: eye", FINDING_OUT_OF_RANGE, "count"},
        {"band 9 turns of navy  fade to plain steps: 4 by: eye", FINDING_OPTION_MISSING, "count"},
        {"fade 40 turns of [plain, navy] by: eye", FINDING_OPTION_MISSING, "count"},
        {"band 9 turns of navy  fade to foam runs: [in 1 out 1] by: eye", FINDING_OPTIONS_EXCLUDE, ""},
        {"band 9 turns of navy  fade to foam by: eye", FINDING_OPTION_MISSING, " steps: 4"},
        {"fade fill of [navy, foam] by: eye", FINDING_OPTION_MISSING, " steps: 4"},
        {"band 9 turns of navy  mirror { fade to foam steps: 3 by: eye }  fade to mist steps: 3",
         FINDING_FADE_FROM_NOTHING, "band 8 turns of navy  "},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[2000];
        snprintf(text, sizeof text, ROD("%s"), cases[i].body);
        Compilation *made = finished(text, TURNLAY_HAS_ERRORS);
        const Finding *finding = found(made, cases[i].code);
        assert_true(finding->has_edit);
        assert_string_equal(finding->edit.text, cases[i].edit);
        turnlay_free(made);
    }
    turnlay_free(compiled(ROD("band 9 turns of navy  fade to foam over: 500 turns by: eye")));
    turnlay_free(compiled(ROD("band 9 turns of plain  fade to navy steps: 4 by: count")));
}

int main(void)
{
    static const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_kept),          cmocka_unit_test(test_not_kept),
        cmocka_unit_test(test_chosen_once),   cmocka_unit_test(test_seen_on_what_is_below),
        cmocka_unit_test(test_turns_in_hand), cmocka_unit_test(test_refused),
        cmocka_unit_test(test_too_many),      cmocka_unit_test(test_measured),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
