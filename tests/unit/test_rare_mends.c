/* Mends that few texts ask for: what their edits write, and which way out a page that is too large has. */
#include "meant.h"

#include "base/limits.h"

/* Between numbers with and without units a minus is a range only where it would come to less than nothing. */
static void test_ranges(void **state)
{
    (void)state;
    static const Slip slips[] = {
        {"gap 7 - 8 mm", "gap 8 mm"},        {"gap 8 - 7 mm", "gap 8 mm - 7 mm"},
        {"gap 7 - 7 mm", "gap 7 mm - 7 mm"}, {"gap 7 + 8 mm", "gap 7 mm + 8 mm"},
        {"gap 9 mm - 8", "gap 9 mm - 8 mm"}, {"gap 7 mm - 8 mm", "gap 1 mm"},
        {"gap 7 - 8", "gap (7 - 8) * 1 mm"},
    };
    CHECK(THREADS BLANK "rod \"R\" on tube { at 20 cm { band 20 turns of navy  @  band 20 turns of navy } }\n",
          slips);
}

/* A section's butt is as thick as the taper of its first two stations makes it, to a tenth of a millimetre. */
static void test_butt_of_a_section(void **state)
{
    (void)state;
    static const Slip slips[] = {
        {"at 10 cm: 8 mm  at 60 cm: 3 mm", "at 0 mm: 9 mm  at 10 cm: 8 mm  at 60 cm: 3 mm"},
        {"at 10 cm: 8.13 mm  at 30 cm: 7.7 mm", "at 0 mm: 8.3 mm  at 10 cm: 8.13 mm  at 30 cm: 7.7 mm"},
        {"at 10 cm: 8.13 mm  at 30 cm: 7.6 mm  at 60 cm: 3 mm",
         "at 0 mm: 8.4 mm  at 10 cm: 8.13 mm  at 30 cm: 7.6 mm  at 60 cm: 3 mm"},
        {"at 10 cm: 3 mm  at 11 cm: 8 mm", "at 0 mm: 0.1 mm  at 10 cm: 3 mm  at 11 cm: 8 mm"},
        {"at -10 mm: 8 mm  at 60 cm: 3 mm", "at 0 mm: 8 mm  at 60 cm: 3 mm"},
    };
    CHECK(THREADS "blank low { at 0 mm: 12 mm  at 60 cm: 8 mm }\nblank high { @ }\n"
                  "rod \"R\" on [low, high] overlap: 5 cm { at 30 cm { band 20 turns of navy } }\n",
          slips);
}

static void test_pages_too_large(void **state)
{
    (void)state;
    static const struct {
        Beyond beyond;
        unsigned most;
        const char *page, *ways[2]; /* what is too large; what is to be done */
    } cases[] = {
        {BEYOND_PAGE_BYTES,
         LIMIT_PAGE_BYTES >> 20,
         "this page would be larger than %u MiB",
         {"a file of its own"}},
        {BEYOND_PAGE_MEMORY,
         LIMIT_PAGE_MEMORY >> 20,
         "this page would take more than %u MiB of memory to make",
         {"a file of its own"}},
        {BEYOND_STEPS,
         LIMIT_BENCH_STEPS,
         "the bench sheets of this file come to more than %u actions",
         {"measure and pack less often", "a file of its own"}},
        {BEYOND_GATHERED,
         LIMIT_FILE_BYTES >> 20,
         "this file with all it uses would be larger than %u MiB, the most that turnlay reads",
         {"send the files as they are"}},
        {BEYOND_PRINTED,
         LIMIT_PRINTED,
         "on paper this would be more than %u letters and points of lines",
         {"print it from the page of --format html", "a file of its own"}},
        {BEYOND_PAINTED,
         LIMIT_PRINTED,
         "this picture would be more than %u letters and points of lines",
         {"draw it with --format svg"}},
        {BEYOND_PIXELS,
         LIMIT_PIXELS,
         "this picture would have more than %u pixels",
         {"make it narrower with --width", "draw it with --format svg"}},
        {BEYOND_PIXEL_ROWS,
         LIMIT_PIXEL_ROWS,
         "this picture would be more than %u pixels high",
         {"make it narrower with --width", "draw it with --format svg"}},
        {BEYOND_SHADES,
         LIMIT_SHADES,
         "more than %u threads would have to be compared, each with each",
         {"two that are more alike", "--between navy,foam"}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *made = compiled(THREADS BLANK "rod \"R\" on tube { at 20 cm { band 20 turns of navy } }\n");
        char words[200];
        uint32_t before = made->findings.list.count;
        assert_int_equal(compilation_beyond(made, cases[i].beyond), TURNLAY_TOO_LARGE);
        assert_int_equal(made->findings.list.count, before + 1);
        const Finding *finding = &made->findings.list.items[before];
        snprintf(words, sizeof words, cases[i].page, cases[i].most);
        assert_string_equal(finding->message, words);
        for (int way = 0; way < 2 && cases[i].ways[way]; way++)
            assert_non_null(strstr(finding->mend, cases[i].ways[way]));
        turnlay_free(made);
    }
}

/* Thread holds on a part that rises by no more than `friction` (0.2) a millimetre of its length. */
static void test_slopes_of_parts(void **state)
{
    (void)state;
    static const struct {
        const char *diameters, *label, *mend; /* NULL: nothing is said */
    } cases[] = {
        {"[14 mm, 20 mm]", "it rises 3.00 mm over 10.00 mm, a slope of 0.3; thread holds on a slope of up to 0.2",
         "end the wrap before the slope; or make the slope flatter, at least 15.00 mm long, and write its diameters"},
        {"[20 mm, 14 mm]", "it rises 3.00 mm over 10.00 mm, a slope of 0.3; thread holds on a slope of up to 0.2",
         "end the wrap before the slope; or make the slope flatter, at least 15.00 mm long, and write its diameters"},
        {"[14 mm, 14 mm, 16.1 mm]",
         "it rises 1.05 mm over 5.00 mm, a slope of 0.21; thread holds on a slope of up to 0.2",
         "end the wrap before the slope; or make the slope flatter, at least 5.25 mm long, and write its diameters"},
        {"[14 mm, 18 mm]", NULL, NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[LONGEST_TEXT];
        snprintf(text, sizeof text,
                 "edition 1\nbench { units: mm }\nthread navy { turns: 20 per cm }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\nrod \"R\" on tube {\n"
                 "part sleeve at 20 cm length: 10 mm { diameter: %s, wrapped: yes }\n"
                 "at 201 mm { band 16 turns of navy } }\n",
                 cases[i].diameters);
        Compilation *made = compiled(text);
        const Finding *found = NULL;
        for (uint32_t f = 0; f < made->findings.list.count; f++)
            if (made->findings.list.items[f].code == FINDING_SLIPS_ON_PART)
                found = &made->findings.list.items[f];
        assert_int_equal(found != NULL, cases[i].label != NULL);
        if (found) {
            assert_string_equal(found->message, "turns would slip on sleeve");
            assert_string_equal(found->at.label, cases[i].label);
            assert_string_equal(found->mend, cases[i].mend);
            assert_memory_equal(text + found->at.span.start, cases[i].diameters, strlen(cases[i].diameters));
        }
        turnlay_free(made);
    }
}

/* An argument without a name behind one that has it, which takes its place: it gets the name of what is left. */
static void test_behind_a_named_argument(void **state)
{
    (void)state;
    static const Slip slips[] = {
        {"q(b: navy, dark_blue)", "q(b: navy, c: dark_blue)"},
        {"q(b: navy, dark_blue, a: 5 mm)", "q(b: navy, c: dark_blue, a: 5 mm)"},
        {"q(b: navy, 5 mm, c: dark_blue)", "q(5 mm, b: navy, c: dark_blue)"},
        {"q(b: navy, 7)", "q(b: navy)"},
        {"r(spot: 0,66, main: navy)", "r(spot: 0.66, main: navy)"},
        {"r(spot: 0,66, navy)", "r(spot: 0.66, navy)"},
    };
    CHECK(
        THREADS BLANK
        "pattern q(a: length, b: thread, c: thread) { band a of b  band a of c }\n"
        "pattern r(spot: ratio, main: thread) { band 40 turns of main { inlay 2 turns of dark_blue at: spot } }\n"
        "rod \"R\" on tube { at 20 cm { @ } }\n",
        slips);
}

/* A tool that is read to no even part of a centimetre or an inch becomes the usual one that is nearest. */
static void test_usual_tools(void **state)
{
    (void)state;
    static const Slip rules[] = {
        {"0.139 mm", "0.1 mm"}, {"0.143 mm", "0.2 mm"}, {"0.31 mm", "0.2 mm"}, {"0.32 mm", "0.5 mm"},
        {"0.7 mm", "0.5 mm"},   {"0.72 mm", "1 mm"},    {"1.39 mm", "1 mm"},   {"1.44 mm", "2 mm"},
        {"3.1 mm", "2 mm"},     {"3.2 mm", "5 mm"},
    };
    CHECK("edition 1\nbench { units: mm, rule: @ }\n", rules);
    static const Slip callipers[] = {
        {"0.0139 mm", "0.01 mm"}, {"0.0143 mm", "0.02 mm"}, {"0.0314 mm", "0.02 mm"},
        {"0.0317 mm", "0.05 mm"}, {"0.0699 mm", "0.05 mm"}, {"0.0715 mm", "0.1 mm"},
    };
    CHECK("edition 1\nbench { units: mm, callipers: @ }\n", callipers);
    static const Slip rules_in_inches[] = {
        {"0.0069 in", "0.005 in"}, {"0.0072 in", "0.01 in"}, {"0.0124 in", "0.01 in"}, {"0.0126 in", "1/64 in"},
        {"0.0219 in", "1/64 in"},  {"0.0223 in", "1/32 in"}, {"0.0438 in", "1/32 in"}, {"0.0445 in", "1/16 in"},
        {"0.088 in", "1/16 in"},   {"0.0885 in", "1/8 in"},
    };
    CHECK("edition 1\nbench { units: in, rule: @ }\n", rules_in_inches);
    static const Slip callipers_in_inches[] = {
        {"0.0007 in", "0.0005 in"}, {"0.00072 in", "0.001 in"}, {"0.00139 in", "0.001 in"},
        {"0.00143 in", "0.002 in"}, {"0.0031 in", "0.002 in"},  {"0.0033 in", "0.005 in"},
    };
    CHECK("edition 1\nbench { units: in, callipers: @ }\n", callipers_in_inches);
}

/* Leads of a crosswrap are two whole numbers from 1 on, in lowest terms at most 8. */
static void test_leads(void **state)
{
    (void)state;
    static const Slip slips[] = {
#define LEADS(written, meant)                                                                                     \
    {"diamond crossings: 3 leads: " written " ends: 12 turns of navy { strand 2 of navy }",                       \
     "diamond crossings: 3 leads: " meant " ends: 12 turns of navy { strand 2 of navy }"}
        LEADS("[0, 1]", "[2, 1]"),    LEADS("[1, 0]", "[2, 1]"), LEADS("[1]", "[2, 1]"),
        LEADS("[2, 1, 1]", "[2, 1]"), LEADS("[9, 1]", "[2, 1]"), LEADS("[1, 17]", "[2, 1]"),
        LEADS("[-1, 1]", "[2, 1]"),
#undef LEADS
    };
    CHECK(LAYER, slips);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ranges),
        cmocka_unit_test(test_butt_of_a_section),
        cmocka_unit_test(test_pages_too_large),
        cmocka_unit_test(test_usual_tools),
        cmocka_unit_test(test_leads),
        cmocka_unit_test(test_slopes_of_parts),
        cmocka_unit_test(test_behind_a_named_argument),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
