/* The findings of crosswraps: what they say, and that their edits, applied to the text, mend it. What a change
 * would come to is held against the plan of a text that has it. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "crossed.h"

#include "check/crosswrap/crosswrap.h"

static void assert_same(double found, double wanted)
{
    assert_within(found, wanted, 1e-9 * fmax(1, fabs(wanted)));
}

static void assert_same_measures(const PlannedCrosswrap *found, const PlannedCrosswrap *wanted)
{
    assert_int_equal(found->crossings, wanted->crossings);
    assert_int_equal(found->end_turns, wanted->end_turns);
    assert_same(found->end_width, wanted->end_width);
    assert_same(found->field_start, wanted->field_start);
    assert_same(found->field_end, wanted->field_end);
    assert_same(found->width, wanted->width);
    assert_same(found->slippage, wanted->slippage);
    assert_same(found->turning_way, wanted->turning_way);
    for (unsigned end = 0; end < 2; end++) {
        assert_same(found->ends[end].position, wanted->ends[end].position);
        assert_same(found->ends[end].diameter, wanted->ends[end].diameter);
        assert_same(found->ends[end].room, wanted->ends[end].room);
        assert_same(found->ends[end].left, wanted->ends[end].left);
        for (unsigned leg = 0; leg < leg_count(wanted); leg++)
            assert_same(found->ends[end].angle[leg], wanted->ends[end].angle[leg]);
    }
}

/* Whether the plan lays it: a background may find no room. */
static bool can_be_laid(const Recipe *recipe)
{
    char text[RECIPE_TEXT];
    put_recipe(text, recipe);
    Compilation *compilation = compilation_new(0);
    assert_non_null(compilation);
    turnlay_give(compilation, "recipe.lay", text, strlen(text));
    while (turnlay_want(compilation).path)
        turnlay_give(compilation, "sizes.lay", "edition 1\n", 10);
    turnlay_finish(compilation);
    bool laid = true;
    for (uint32_t i = 0; i < compilation->findings.list.count; i++)
        laid = laid && compilation->findings.list.items[i].code != FINDING_NOTHING_LEFT_TO_FILL;
    turnlay_free(compilation);
    return laid;
}

/* The crosswrap changed, against the plan of the recipe that has the change. */
static void assert_plan_of(const Crossed *made, const Recipe *changed, Change change)
{
    char first[RECIPE_TEXT];
    strcpy(first, checked);
    PlannedCrosswrap found;
    bool can = crosswrap_changed(&made->compilation->job->bench, made->planned, change, &found);
    assert_int_equal(can, can_be_laid(changed));
    if (!can)
        return;
    Crossed wanted = crossed_recipe(changed);
    assert_same_measures(&found, wanted.planned);
    crossed_end(&wanted);
    strcpy(checked, first);
    checking = true;
}

static double spaced_of(const Recipe *recipe)
{
    return recipe->kind == CROSSWRAP_SPIRAL ? recipe->turns : recipe->crossings;
}

static void hold_changes_against_plans(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    const Crosswrap *crosswrap = made->planned->crosswrap;
    PlannedCrosswrap found;
    Change change = {CHANGE_SPACED, spaced_of(recipe), 0, crosswrap->spaced_span};
    assert_true(crosswrap_changed(&made->compilation->job->bench, made->planned, change, &found));
    assert_same_measures(&found, made->planned);

    Recipe changed = *recipe;
    changed.turns += 0.75;
    changed.crossings += 2;
    change.value = spaced_of(&changed);
    assert_plan_of(made, &changed, change);

    changed = *recipe;
    changed.end_turns += 5;
    assert_plan_of(made, &changed, (Change){CHANGE_ENDS, changed.end_turns, 0, crosswrap->ends_span});

    changed = *recipe;
    uint32_t line = any_of(random, 0, recipe->line_count - 1);
    if (!recipe->lines[line].count)
        return;
    changed.lines[line].count += 3;
    change = (Change){CHANGE_STRANDS, changed.lines[line].count, line, crosswrap->lines[line].count_span};
    assert_plan_of(made, &changed, change);
}

static void a_change_comes_to_what_is_planned_then(void **state)
{
    (void)state;
    uint64_t random = 20261;
    int held = 0;
    for (int i = 0; i < 150; i++) {
        Recipe recipe = random_recipe(&random);
        if (!can_be_laid(&recipe))
            continue;
        Crossed made = crossed_recipe(&recipe);
        hold_changes_against_plans(&recipe, &made, &random);
        crossed_end(&made);
        held++;
    }
    assert_true(held > 100);
}

/* --- whole texts --- */

#define THREADS "edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"
#define TUBE "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
#define ROD(place) "rod \"Tested\" on tube {\n" place "\n}\n"
#define FILE_OF(place) THREADS TUBE ROD(place)
#define LAID(statement) FILE_OF("at 30 cm length: 60 mm { " statement " }")
#define LAID_BY(bench, statement)                                                                                 \
    THREADS "bench { " bench " }\n" TUBE ROD("at 30 cm length: 60 mm { " statement " }")

/* Codes of chapters T4 and T6, in order: "T603 T606". */
static void put_codes(const Crossed *made, char codes[200])
{
    codes[0] = 0;
    for (uint32_t i = 0; i < made->compilation->findings.list.count; i++) {
        const char *code = finding_code_text(made->compilation->findings.list.items[i].code);
        if (code[1] != '6' && code[1] != '4')
            continue;
        strcat(strcat(codes, *codes ? " " : ""), code);
    }
}

static void expect_codes(const char *text, const char *wanted)
{
    char codes[200];
    Crossed made = crossed(text);
    put_codes(&made, codes);
    assert_string_equal(codes, wanted);
    crossed_end(&made);
}

static const Finding *first_of(const Crossed *made, const char *code)
{
    for (uint32_t i = 0; i < made->compilation->findings.list.count; i++)
        if (strcmp(finding_code_text(made->compilation->findings.list.items[i].code), code) == 0)
            return &made->compilation->findings.list.items[i];
    fail_msg("no finding %s", code);
    return NULL;
}

/* A text with one finding, what its edit takes out and puts in ("" and "": it has none). */
typedef struct Mended {
    const char *code, *old, *text, *source;
} Mended;

static void apply(const Finding *finding, const char *source, char *result)
{
    sprintf(result, "%.*s%s%s", (int)finding->edit.span.start, source, finding->edit.text,
            source + finding->edit.span.end);
}

static void expect_mended(const Mended *one)
{
    char codes[200], result[2000];
    Crossed made = crossed(one->source);
    put_codes(&made, codes);
    assert_string_equal(codes, one->code);
    const Finding *finding = first_of(&made, one->code);
    assert_true(strlen(finding->mend) > 0);
    assert_true(strlen(finding->at.label) > 0);
    assert_int_equal(finding->has_edit, *one->text != 0);
    if (!finding->has_edit) {
        crossed_end(&made);
        return;
    }
    Span span = finding->edit.span;
    assert_int_equal(span.end - span.start, strlen(one->old));
    assert_memory_equal(one->source + span.start, one->old, strlen(one->old));
    assert_string_equal(finding->edit.text, one->text);
    apply(finding, one->source, result);
    crossed_end(&made);
    expect_codes(result, "");
}

static void each_finding_has_its_way_out(void **state)
{
    (void)state;
    static const Mended all[] = {
        {"T601", "21 mm", "18.806 mm", LAID("chevron spacing: 21 mm ends: 12 turns of navy { strand 4 of mist }")},
        {"T601", "", "", LAID("chevron spacing: 20 mm + 1 mm ends: 12 turns of navy { strand 4 of mist }")},
        {"T602", "35 deg", "31.2 deg",
         FILE_OF("at 30 cm length: 40 mm { chevron angle: 35 deg ends: 12 turns of navy { strand 4 of mist } }")},
        {"T603", "20", "46",
         LAID("chevron crossings: 8 field: closed ends: 12 turns of navy { strand 20 of mist }")},
        /* on both sides, two at a time */
        {"T603", "5", "20",
         LAID("diamond crossings: 8 field: closed ends: 12 turns of navy { strand 6 of navy  strand 5 of mist }")},
        /* the words of a loop lay two lines */
        {"T603", "10", "23",
         LAID("chevron crossings: 8 field: closed ends: 12 turns of navy { for s in [navy, mist] { strand 10 of s "
              "} }")},
        /* a spiral's turns need not be whole */
        {"T603", "3 turns", "6.02 turns",
         LAID("spiral turns: 3 turns starts: 2 field: closed ends: 12 turns of navy { strand 20 + 10 of mist }")},
        /* no one number serves both places */
        {"T603", "5", "fill",
         THREADS TUBE
         "pattern p() { chevron crossings: 4 field: closed ends: 12 turns of navy { strand 9 of navy strand 5 of "
         "mist } }\n" ROD("at 10 cm length: 60 mm { over { p() } } at 30 cm length: 40 mm { over { p() } }")},
        {"T604", "60", "46",
         LAID("chevron crossings: 8 field: closed ends: 12 turns of navy { strand 60 of mist }")},
        /* it tapers too much for one count to close both ends: flatter threads mind less */
        {"T604", "2", "5",
         THREADS "blank tube { at 0 mm: 20 mm  at 50 cm: 5 mm }\n" ROD(
             "at 30 cm length: 80 mm { chevron crossings: 2 ends: 12 turns of navy { strand fill of mist } }")},
        {"T605", "60", "41", LAID("chevron crossings: 9 ends: 12 turns of navy { strand 60 of mist }")},
        {"T605", "9", "5", LAID("chevron crossings: 9 ends: 12 turns of navy { strand 30 * 2 of mist }")},
        {"T606", "1", "2",
         THREADS "blank tube { at 0 mm: 7 mm  at 100 cm: 4 mm }\n" ROD(
             "at 30 cm length: 60 mm { chevron crossings: 1 ends: 12 turns of navy { strand 4 of mist } }")},
        {"T606", "20", "10", LAID("chevron crossings: 20 ends: 12 turns of navy { strand 4 of mist }")},
        {"T607", "1", "2",
         THREADS "blank tube { at 29 cm: 20 mm  at 37 cm: 8 mm }\n" ROD(
             "at 30 cm length: 60 mm { chevron crossings: 1 ends: 12 turns of navy { strand 4 of mist } }")},
        {"T607", "none", "tape",
         LAID_BY("ends: none", "chevron crossings: 3 ends: 12 turns of navy { strand 4 of mist }")},
        {"T608", "5 turns", "8 turns", LAID("chevron crossings: 3 ends: 5 turns of navy { strand 4 of mist }")},
        {"T608", "0.7 mm", "8 turns", LAID("chevron crossings: 3 ends: 0.7 mm of navy { strand 4 of mist }")},
        {"T608", "2 * 3 turns", "max(2 * 3 turns, 8 turns)",
         LAID("chevron crossings: 3 ends: 2 * 3 turns of navy { strand 4 of mist }")},
        {"T608", "8 turns", "10 turns",
         LAID_BY("bind: 10 turns", "chevron crossings: 3 ends: 8 turns of navy { strand 4 of mist }")},
        {"T612", "2", "3",
         LAID_BY("stack: 2", "under { band fill of navy }"
                             "chevron crossings: 3 ends: 12 turns of navy { strand 4 of mist }")},
    };
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        expect_mended(&all[i]);
}

static void plain_crosswraps_give_nothing(void **state)
{
    (void)state;
    expect_codes(LAID("chevron crossings: 3 ends: 12 turns of navy { strand 4 of mist  strand 3 of navy }"), "");
    expect_codes(LAID("under { band fill of navy } chevron crossings: 4 ends: 12 turns of navy { strand 1 of mist"
                      " strand 1 of navy strand 1 of mist strand 1 of navy strand 1 of mist strand 1 of navy }"),
                 "");
    expect_codes(LAID("diamond crossings: 3 ends: 12 turns of navy { strand 1 of mist  strand fill of navy }"),
                 "");
    expect_codes(LAID("chevron crossings: 2 leads: [2, 1] ends: 12 turns of navy { strand fill of navy }"), "");
    expect_codes(LAID("spiral turns: 3 turns starts: 3 ends: 12 turns of navy { strand 4 of mist }"), "");
    expect_codes(LAID("under { band fill of navy } under { band fill of mist }"
                      "diamond crossings: 3 ends: 12 turns of navy { strand 5 of mist }"
                      "spiral turns: 3 turns ends: 12 turns of navy { strand 2 of navy }"),
                 "");
    expect_codes(FILE_OF("at 20 cm length: 120 mm { under { band fill of navy }"
                         "chevron spacing: 19.4 mm starts: 2 ends: 12 turns of navy { strand 10 of mist } }"),
                 "");
}

/* The limits themselves keep the rule. */
static void at_the_limit_nothing_is_said(void **state)
{
    (void)state;
    expect_codes(LAID("chevron spacing: 18.97 mm ends: 12 turns of navy { strand 4 of mist }"), "");
    expect_codes(LAID("chevron spacing: 18.98 mm ends: 12 turns of navy { strand 4 of mist }"), "T601");
    expect_codes(LAID("chevron crossings: 8 field: closed ends: 12 turns of navy { strand 46 of mist }"), "");
    expect_codes(LAID("chevron crossings: 8 field: closed ends: 12 turns of navy { strand 45 of mist }"), "T603");
    expect_codes(LAID("chevron crossings: 8 field: closed ends: 12 turns of navy { strand 47 of mist }"), "T604");
    expect_codes(LAID("chevron crossings: 3 ends: 8 turns of navy { strand 4 of mist }"), "");
    expect_codes(LAID("chevron crossings: 3 ends: 7 turns of navy { strand 4 of mist }"), "T608");
    expect_codes(LAID_BY("ends: pins", "chevron crossings: 3 ends: 12 turns of navy { strand 4 of mist }"), "");
    expect_codes(LAID_BY("ends: none", "spiral turns: 3 turns ends: 12 turns of navy { strand 4 of mist }"), "");
}

/* One pattern at two places: one finding; its edit has to serve both. */
static void copies_speak_once(void **state)
{
    (void)state;
    static const char same[] =
        THREADS TUBE "pattern p() { chevron crossings: 3 ends: 5 turns of navy { strand 4 of mist } }\n" ROD(
            "at 10 cm length: 60 mm { over { p() } } at 30 cm length: 70 mm { over { p() } }");
    Crossed made = crossed(same);
    const Finding *finding = first_of(&made, "T608");
    assert_int_equal(finding->times, 2);
    assert_true(finding->has_edit);
    crossed_end(&made);
    static const char differ[] =
        THREADS TUBE "pattern p() { chevron spacing: 20 mm ends: 12 turns of navy { strand 4 of mist } }\n" ROD(
            "at 10 cm length: 63.59 mm { over { p() } } at 30 cm length: 70 mm { over { p() } }");
    made = crossed(differ);
    finding = first_of(&made, "T601");
    assert_int_equal(finding->times, 1);
    assert_false(finding->has_edit); /* it would spoil the first place */
    crossed_end(&made);
}

static void threads_on_one_another_are_counted(void **state)
{
    (void)state;
#define STACK(count, layers) LAID_BY("stack: " count, layers)
#define CHEVRON "chevron crossings: 3 ends: 12 turns of navy { strand 4 of mist } "
#define SPIRAL "spiral turns: 3 turns ends: 12 turns of navy { strand 4 of mist } "
    expect_codes(STACK("2", CHEVRON), "");
    expect_codes(STACK("3", "under { band fill of navy } " CHEVRON), "");
    expect_codes(STACK("2", "under { band fill of navy } " SPIRAL), "");
    expect_codes(STACK("2", "under { band fill of navy } " CHEVRON), "T612");
    expect_codes(STACK("5", "under { band fill of navy } " CHEVRON CHEVRON), "");
    expect_codes(STACK("4", "under { band fill of navy } " CHEVRON CHEVRON), "T612"); /* once, for the upper one */
    /* gaps and what ends before the field add nothing, what is wound over it does */
    expect_codes(STACK("2", "under { band 10 turns of navy gap 40 mm } " CHEVRON), "");
    expect_codes(STACK("2", "under { gap 40 mm band 20 turns of navy } " CHEVRON), "T612");
    expect_codes(STACK("2", CHEVRON "over offset: 20 mm { band 20 turns of navy }"), "T612");
}

/* Where one bundle lies over the next, each leg counts once more for every bundle below it; what a taper makes
 * overlap within what T604 allows does not. */
static void bundles_over_one_another_are_counted(void **state)
{
    (void)state;
    static const char *const over[][2] = {{"41", "3"}, {"43", "5"}, {"60", "5"},
                                          {"80", "5"}, {"84", "7"}, {"120", "7"}};
    for (size_t i = 0; i < sizeof over / sizeof *over; i++) {
        bool overlaps = i > 0;
        for (int least = atoi(over[i][1]) - 1; least <= atoi(over[i][1]); least++) {
            char text[1000];
            snprintf(text, sizeof text,
                     THREADS "bench { stack: %d }\n" TUBE ROD(
                         "at 30 cm length: 60 mm { under { band fill of navy } chevron crossings: 9 ends: "
                         "12 turns of navy { strand %s of mist } }"),
                     least, over[i][0]);
            bool stacked = least < atoi(over[i][1]);
            expect_codes(text, stacked ? overlaps ? "T612 T605" : "T612" : overlaps ? "T605" : "");
        }
    }
    expect_codes(THREADS "bench { stack: 2 }\nblank tube { at 0 mm: 12 mm  at 50 cm: 10 mm }\n" ROD(
                     "at 30 cm length: 60 mm { chevron crossings: 3 field: closed ends: 12 turns of navy"
                     " { strand fill of mist } }"),
                 "");
}

static bool has_code(const char *text, const char *code)
{
    char codes[200];
    Crossed made = crossed(text);
    put_codes(&made, codes);
    crossed_end(&made);
    return strstr(codes, code);
}

static double number_after(const char *text, const char *word)
{
    const char *at = strstr(text, word);
    assert_non_null(at);
    return strtod(at + strlen(word), NULL);
}

/* Where the strands cannot get fewer: so many crossings or turns as there is room for, and no more. */
static void no_fewer_crossings_than_needed(void **state)
{
    (void)state;
#define SPACED(spaced) LAID(spaced " ends: 12 turns of navy { strand %s of navy strand 1 of mist }")
    static const struct {
        const char *text, *word;
        double now, step;
    } all[] = {{SPACED("chevron crossings: %.12g"), "crossings: ", 9, 1},
               {SPACED("diamond crossings: %.12g"), "crossings: ", 9, 1},
               {SPACED("spiral turns: %.12g turns"), "turns: ", 9, 0.01},
               {SPACED("spiral turns: %.12g turns"), "turns: ", 30, 0.01}};
    static const char *const strands[] = {"50", "60", "90"};
    char text[1000];
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        for (size_t j = 0; j < sizeof strands / sizeof *strands; j++) {
            snprintf(text, sizeof text, all[i].text, all[i].now, strands[j]);
            Crossed made = crossed(text);
            double offered = number_after(first_of(&made, "T605")->mend, all[i].word);
            crossed_end(&made);
            snprintf(text, sizeof text, all[i].text, offered, strands[j]);
            assert_false(has_code(text, "T605"));
            snprintf(text, sizeof text, all[i].text, offered + all[i].step, strands[j]);
            assert_true(has_code(text, "T605"));
        }
}

/* The bench takes 1 to 89 degrees: an angle beyond cannot be allowed. */
static void angles_are_allowed_as_far_as_the_bench_takes_them(void **state)
{
    (void)state;
#define FLAT(width)                                                                                               \
    THREADS "blank tube { at 0 mm: " width " at 100 cm: " width " }\n" ROD("at 30 cm length: 3.4 mm { p() }")
#define STEEP(width)                                                                                              \
    THREADS "bench { ends: pins }\nblank tube { at 0 mm: " width "  at 100 cm: " width                            \
            " }\n" ROD("at 10 cm length: 600 mm { p() } at 80 cm length: 7 mm { p() }")
#define ONE_CROSSING "pattern p() { chevron crossings: 1 ends: 8 turns of navy { strand 1 of mist } }\n"
    static const struct {
        const char *text, *edit; /* or NULL: it has none */
    } all[] = {{FLAT("11 mm") ONE_CROSSING, "flattest: 1 deg"},
               {FLAT("30 mm") ONE_CROSSING, NULL},
               {STEEP("6 mm") ONE_CROSSING, "steepest: 89 deg"},
               {STEEP("3 mm") ONE_CROSSING, NULL}};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        Crossed made = crossed(all[i].text);
        const Finding *finding = first_of(&made, "T606");
        assert_int_equal(finding->has_edit, all[i].edit != NULL);
        assert_true(!all[i].edit || strstr(finding->edit.text, all[i].edit));
        crossed_end(&made);
    }
}

/* Six pieces of thread: their cut ends lie outside of the end bands, not lengthwise under their turns. */
static void strands_make_no_ridge(void **state)
{
    (void)state;
    expect_codes(LAID_BY("ridge: 2",
                         "chevron crossings: 3 ends: 20 turns of navy { strand 1 of mist strand 1 of navy"
                         " strand 1 of mist strand 1 of navy strand 1 of mist strand 1 of navy }"),
                 "");
}

/* The strands' threads are of one sort with that of the end bands, as in any layer. */
static void strands_are_asked_for_their_preserver(void **state)
{
    (void)state;
    static const char text[] =
        "edition 1\nthread navy { turns: 67 per cm }\n"
        "thread mist { turns: 67 per cm, preserver: yes }\n" TUBE ROD(
            "at 30 cm length: 60 mm { chevron crossings: 3 ends: 12 turns of navy { strand 4 of mist } }");
    Crossed made = crossed(text);
    assert_int_equal(made.compilation->findings.list.count, 1);
    assert_non_null(first_of(&made, "T502"));
    crossed_end(&made);
}

/* What is said is in inches here; what is to be written is in the unit that stands there. */
static void numbers_are_in_the_units_of_the_bench(void **state)
{
    (void)state;
    static const struct {
        const char *spacing, *mended;
    } cases[] = {{"21 mm", "18.806 mm"}, {"2.1 cm", "1.8806 cm"}, {"7/8 in", "0.7404 in"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[1024];
        snprintf(text, sizeof text,
                 THREADS
                 "bench { units: in }\n" TUBE ROD("at 30 cm length: 60 mm { chevron spacing: %s ends: 12 turns "
                                                  "of navy { strand 4 of mist } }"),
                 cases[i].spacing);
        Crossed made = crossed(text);
        const Finding *finding = first_of(&made, "T601");
        assert_string_equal(finding->edit.text, cases[i].mended);
        assert_non_null(strstr(finding->at.label, "2 7/32 in (2.221 in)"));
        crossed_end(&made);
    }
}

/* Tape and pins need 10 mm beside a crosswrap, half of a tape 20 mm wide: to a part without thread, to a joint, to
 * an end of the blank. Both ends are one finding. */
#define TURNS_ROUND "chevron crossings: 3 ends: 12 turns of navy { strand 4 of mist }"
#define BESIDE(bench, on, place)                                                                                  \
    THREADS "bench { units: mm, " bench " }\n" TUBE "blank end { at 0 mm: 3.9 mm  at 50 cm: 2 mm }\n"             \
            "rod \"Tested\" on " on " {\n" place "\n}\n"
#define PARTS                                                                                                     \
    "part grip at 10 cm length: 10 cm { diameter: 20 mm }\npart check at 30 cm length: 3 mm { diameter: 14 mm }\n"
#define BETWEEN(place) BESIDE("ends: tape", "tube", PARTS place " { " TURNS_ROUND " }")

static void strands_turn_round_where_there_is_room(void **state)
{
    (void)state;
    static const struct {
        const char *text, *label, *mend; /* "" for no finding */
    } cases[] = {
        {BETWEEN("at 210 mm length: 80 mm"), "", ""},
        {BETWEEN("at 209.9 mm length: 80.1 mm"), "9.90 mm before grip", "away from grip, and"},
        {BETWEEN("at 210 mm length: 80.5 mm"), "9.50 mm before check", "away from check, and"},
        {BETWEEN("at 200 mm length: 100 mm"), "0.00 mm before grip and 0.00 mm before check",
         "away from grip and check, and"},
        {BETWEEN("at 290.5 mm toward: butt length: 80 mm"), "9.50 mm before check", "away from check, and"},
        {BETWEEN("at 303 mm length: 80 mm"), "0.00 mm before check", "away from check, and"},
        {BETWEEN("at 10 mm length: 80 mm"), "", ""},
        {BETWEEN("at 9 mm length: 80 mm"), "9.00 mm before the blank's butt", "away from the blank's butt, and"},
        {BETWEEN("at 910 mm length: 80 mm"), "", ""},
        {BETWEEN("at 912 mm length: 80 mm"), "8.00 mm before the blank's tip", "away from the blank's tip, and"},
        /* Thread may lie on a part that is wrapped and on other wraps, and a mark takes no room. */
        {BESIDE("ends: tape", "tube",
                "part feather at 38 cm length: 10 mm { wrapped: yes }\npart mark at 382 mm\n"
                "at 300 mm length: 80 mm { " TURNS_ROUND " }\nat 390 mm length: 20 mm { band fill of navy }"),
         "", ""},
        /* Of a part that lies within reach and the end of the blank the nearer counts. */
        {BESIDE("ends: tape", "tube",
                "part top at 995 mm length: 5 mm { diameter: 6 mm }\nat 910 mm length: 80 mm { " TURNS_ROUND " }"),
         "5.00 mm before top", "away from top, and"},
        /* What does not slide on is laid on last. */
        {BESIDE("ends: tape", "tube",
                "part keeper at 382 mm length: 5 mm { diameter: 12 mm, slides: no }\n"
                "part free at 295 mm length: 3 mm\nat 300 mm length: 80 mm { " TURNS_ROUND " }"),
         "", ""},
        {BESIDE("ends: pins", "[tube, end] overlap: 20 mm inside: tip",
                "at 915 mm length: 80 mm { " TURNS_ROUND " }"),
         "5.00 mm before the joint", "away from the joint, and"},
        {BESIDE("ends: pins", "[tube, end] overlap: 20 mm inside: tip",
                "at 1006 mm length: 80 mm { " TURNS_ROUND " }"),
         "6.00 mm before the joint", "away from the joint, and"},
        /* Held by the end bands, or led one way only, strands need none. */
        {BESIDE("ends: none, friction: 0.5", "tube",
                PARTS
                "at 200 mm length: 100 mm { chevron crossings: 3 ends: 12 mm of navy { strand 4 of mist } }"),
         "", ""},
        {BESIDE("ends: tape", "tube",
                PARTS
                "at 200 mm length: 100 mm { spiral turns: 3 turns ends: 12 turns of navy { strand 4 of mist } }"),
         "", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Crossed made = crossed(cases[i].text);
        char codes[200];
        put_codes(&made, codes);
        if (strcmp(codes, *cases[i].label ? "T613" : "") != 0)
            fail_msg("case %zu: %s", i, codes);
        if (*cases[i].label) {
            const Finding *finding = first_of(&made, "T613");
            char label[200];
            snprintf(label, sizeof label, "its strands turn round up to 10.00 mm outside it; there is %s",
                     cases[i].label);
            assert_string_equal(finding->at.label, label);
            assert_non_null(strstr(finding->mend, "keep it 10.00 mm away from "));
            assert_non_null(strstr(finding->mend, cases[i].mend));
            assert_non_null(strstr(finding->message, strstr(cases[i].text, "pins") ? "row of pins" : "tape"));
        }
        crossed_end(&made);
    }
    /* Of copies the one that lacks most at one of its ends is told. */
    Crossed made = crossed(THREADS "bench { units: mm }\n" TUBE "pattern deco() { " TURNS_ROUND " }\n" ROD(
        PARTS "at 205 mm length: 90 mm { deco() }\nat 303 mm length: 60 mm { deco() }"));
    const Finding *finding = first_of(&made, "T613");
    assert_string_equal(finding->at.label,
                        "its strands turn round up to 10.00 mm outside it; there is 0.00 mm before check");
    assert_int_equal(finding->times, 2);
    crossed_end(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        OF_TEXTS(a_change_comes_to_what_is_planned_then),
        OF_TEXTS(each_finding_has_its_way_out),
        OF_TEXTS(plain_crosswraps_give_nothing),
        OF_TEXTS(at_the_limit_nothing_is_said),
        OF_TEXTS(copies_speak_once),
        OF_TEXTS(threads_on_one_another_are_counted),
        OF_TEXTS(bundles_over_one_another_are_counted),
        OF_TEXTS(no_fewer_crossings_than_needed),
        OF_TEXTS(angles_are_allowed_as_far_as_the_bench_takes_them),
        OF_TEXTS(strands_make_no_ridge),
        OF_TEXTS(strands_are_asked_for_their_preserver),
        OF_TEXTS(numbers_are_in_the_units_of_the_bench),
        OF_TEXTS(strands_turn_round_where_there_is_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
