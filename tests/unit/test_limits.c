/* Options at the limits of what they may be, in every unit system: what a finding prints as the limit is allowed,
 * is not what it says was written, and its mend removes it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "meaning/option.h"
#include "compilation.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST_TEXT = 2000 };

/* A file with room for options: `$` is the unit system, `@` the value that is tried. */
#define WHOLE(...) WRITTEN(__VA_ARGS__)
#define WRITTEN(size, thread, bench, station, guide, place, layer, band, crosswrap)                               \
    "edition 1\n"                                                                                                 \
    "size tried { " size " }\n"                                                                                   \
    "thread navy { " thread " }\n"                                                                                \
    "thread mist { size: tried }\n"                                                                               \
    "bench { units: $ " bench " }\n"                                                                              \
    "blank tube { at 0 mm: 12 mm " station " at 100 cm: 4 mm }\n"                                                 \
    "guide ring { foot: 14 mm " guide " }\n"                                                                      \
    "rod \"Tried\" on tube {\n"                                                                                   \
    " at 20 cm " place " { over " layer " { " band " } }\n"                                                       \
    " at 50 cm length: 60 mm { " crosswrap " ends: 12 turns of mist { strand 2 of mist } }\n"                     \
    " at 70 cm guide: ring { band 40 turns of navy }\n"                                                           \
    "}\n"
#define WIDE "diameter: 0.15 mm "
#define PLAIN "length: 60 mm", "", "band 12 turns of navy", "chevron crossings: 2"
#define OF_SIZE(option) WHOLE(option, WIDE, "", "", "", PLAIN)
#define OF_THREAD(option) WHOLE(WIDE, option, "", "", "", PLAIN)
#define OF_BENCH(option) WHOLE(WIDE, WIDE, option, "", "", PLAIN)
#define OF_GUIDE(option) WHOLE(WIDE, WIDE, "", "", option, PLAIN)
#define OF_BLANK(option) WHOLE(WIDE, WIDE, "", option, "", PLAIN)
#define OF_PLACE(option) WHOLE(WIDE, WIDE, "", "", "", option, "", "band 12 turns of navy", "chevron crossings: 2")
#define OF_LAYER(option)                                                                                          \
    WHOLE(WIDE, WIDE, "", "", "", "length: 60 mm", option, "band 12 turns of navy", "chevron crossings: 2")
#define OF_BAND(band) WHOLE(WIDE, WIDE, "", "", "", "length: 60 mm", "", band, "chevron crossings: 2")
#define OF_CROSSWRAP(crosswrap)                                                                                   \
    WHOLE(WIDE, WIDE, "", "", "", "length: 60 mm", "", "band 12 turns of navy", crosswrap)

/* How its value is written: the unit, or NULL for that of the unit system. */
typedef struct Option {
    const char *unit, *text;
} Option;
static const Option options[] = {
    {" turns", OF_BENCH("bind: @")},
    {" turns", OF_BENCH("loop: @")},
    {" turns", OF_BENCH("final: @")},
    {NULL, OF_BENCH("free: @")},
    {NULL, OF_BENCH("tolerance: @")},
    {NULL, OF_BENCH("hand: @")},
    {" turns", OF_BENCH("carry: @")},
    {"", OF_BENCH("ridge: @")},
    {NULL, OF_BENCH("apart: @")},
    {NULL, OF_BENCH("rule: @")},
    {NULL, OF_BENCH("reading: @")},
    {"", OF_BENCH("varies: @")},
    {NULL, OF_BENCH("callipers: @")},
    {"", OF_BENCH("friction: @")},
    {" turns", OF_BENCH("measure: @")},
    {NULL, OF_BENCH("coat: @")},
    {"", OF_BENCH("speed: @")},
    {"", OF_BENCH("handling: @")},
    {"", OF_BENCH("holders: @")},
    {"", OF_BENCH("bobbins: @")},
    {" turns", OF_BENCH("pack: @")},
    {" turns", OF_BENCH("shortest: @")},
    {"", OF_BENCH("coats: @")},
    {" deg", OF_BENCH("steepest: 89 deg flattest: @")},
    {" deg", OF_BENCH("flattest: 1 deg steepest: @")},
    {"", OF_BENCH("stack: @")},
    {NULL, OF_BENCH("paper: @")},
    {"", OF_BENCH("sight: @")},
    {NULL, OF_BENCH("near: @")},
    {NULL, OF_BENCH("far: @")},
    {"", OF_BENCH("jump: @")},
    {"", OF_BENCH("alike: @")},
    {NULL, OF_SIZE("diameter: @")},
    {"", OF_SIZE(WIDE "uncertainty: @")},
    {" per cm", OF_THREAD("turns: @")},
    {" per in", OF_THREAD("turns: @")},
    {NULL, OF_THREAD("diameter: @")},
    {"", OF_THREAD("fibre: silk tex: @")},
    {"", OF_THREAD("tex: 20 fibre: silk fullness: @")},
    {"", OF_THREAD(WIDE "packing: @")},
    {"", OF_THREAD(WIDE "uncertainty: @")},
    {NULL, OF_THREAD(WIDE "colours: [#22346b, #4c6a9c] period: @")},
    {NULL, OF_THREAD(WIDE "stock: @")},
    {NULL, OF_THREAD(WIDE "spool: @")},
    {"", OF_THREAD(WIDE "price: @")},
    {" %", OF_THREAD(WIDE "opacity: @")},
    {NULL, OF_GUIDE("gap: @")},
    {NULL, OF_GUIDE("width: @")},
    {NULL, OF_GUIDE("height: @")},
    {NULL, OF_GUIDE("ramp: @")},
    {NULL, OF_GUIDE("before: @")},
    {NULL, OF_GUIDE("ring: @")},
    {NULL, OF_GUIDE("tall: @")},
    {NULL, OF_BLANK("at 40 cm: @")},
    {NULL, OF_PLACE("length: @")},
    {" deg", OF_PLACE("length: 40 cm angle: @")}, /* either way round */
    {" %",
     WHOLE(
         WIDE, WIDE, "", "", "", "", "", "band 12 turns of navy",
         "chevron crossings: 2") "rod \"B\" on tube { series first: 10 cm last: 50 cm count: 3 progression: @ { band 20 turns of navy } }\n"},
    {NULL, OF_LAYER("length: @")},
    {NULL, OF_LAYER("offset: @")},
    {"", OF_BAND("band fill of navy weight: @")},
    {NULL, OF_BAND("band 12 turns of navy measured: @")},
    {" deg", OF_CROSSWRAP("chevron angle: @")},
    {NULL, OF_CROSSWRAP("diamond spacing: @")},
    {"", OF_CROSSWRAP("diamond crossings: @")},
    {" turns", OF_CROSSWRAP("spiral turns: @")},
    {NULL, OF_CROSSWRAP("spiral lead: @")},
    {" deg", OF_CROSSWRAP("spiral angle: @")},
};
#define OPTION_COUNT ((int)(sizeof options / sizeof *options))
static const char *const systems[] = {"mm", "cm", "in"};
#define SYSTEM_COUNT ((int)(sizeof systems / sizeof *systems))

static void write_text(char *text, const char *form, const char *system, const char *value)
{
    for (; *form; form++) {
        const char *put = *form == '$' ? system : *form == '@' ? value : NULL;
        text += put ? sprintf(text, "%s", put) : sprintf(text, "%c", *form);
    }
}

static Compilation *compiled(const char *text)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    turnlay_give(made, "tried.lay", text, strlen(text));
    while (turnlay_want(made).path)
        turnlay_give(made, "none.lay", "edition 1\n", 10);
    assert_int_not_equal(turnlay_finish(made), TURNLAY_OUT_OF_MEMORY);
    return made;
}

/* What the finding about the range says, and where its edit stands; false where there is none. */
typedef struct Told {
    char message[300], mend[100];
    Span span;
} Told;

static bool tells(const char *text, Told *told)
{
    Compilation *made = compiled(text);
    bool found = false;
    for (uint32_t i = 0; i < made->findings.list.count && !found; i++) {
        const Finding *finding = &made->findings.list.items[i];
        if (finding->code != FINDING_OUT_OF_RANGE)
            continue;
        found = true;
        snprintf(told->message, sizeof told->message, "%s; %s", finding->message,
                 finding->at.label ? finding->at.label : "");
        assert_true(finding->has_edit);
        snprintf(told->mend, sizeof told->mend, "%s", finding->edit.text);
        told->span = finding->edit.span;
    }
    turnlay_free(made);
    return found;
}

/* The value is allowed, or the finding is as it should be; then gives what its mend writes. */
static bool is_told_well(const Option *option, const char *system, const char *value, Told *told)
{
    char text[LONGEST_TEXT], mended[LONGEST_TEXT];
    write_text(text, option->text, system, value);
    if (!tells(text, told))
        return false;
    if (strcmp(told->mend, value) == 0)
        fail_msg("%s: the mend writes what stands there\n%s", told->message, text);
    const char *is = strstr(told->message, " is at "), *was = strstr(told->message, "and this is ");
    if (is && was && strncmp(is + strlen(" is at least "), was + strlen("and this is "), strlen(told->mend)) == 0)
        fail_msg("both look alike: %s", told->message);
    sprintf(mended, "%.*s%s%s", (int)told->span.start, text, told->mend, text + told->span.end);
    Told again;
    /* angles that are now the same, or a width that is not the band's, are another matter */
    if (tells(mended, &again) && strstr(again.message, " is at "))
        fail_msg("%s: mended by %s and still: %s", told->message, told->mend, again.message);
    return true;
}

/* A step of the mend's last digits beyond it, and ever smaller ones. */
static void try_near(const Option *option, const char *system, const char *bound, int way)
{
    char *unit;
    double number = strtod(bound, &unit);
    const char *point = strchr(bound, '.');
    int digits = point && point < unit ? (int)(unit - point) - 1 : 0;
    uint32_t refused = 0;
    for (int more = -1; more < 4; more++) {
        char value[100];
        int shown = digits + more < 0 ? 0 : digits + more;
        double step =
            fmax(pow(10, -shown), more < 0 ? fabs(number) * 1e-6 : 0); /* the first one shows in nine digits */
        snprintf(value, sizeof value, "%.*f%s", shown, number + way * step, unit);
        Told told;
        if (value[0] != '-' || number < 0)
            refused += is_told_well(option, system, value, &told);
    }
    if (!refused && number != 0)
        fail_msg("no step beyond %s is refused in\n%s", bound, option->text);
}

static void test_limits(void **state)
{
    (void)state;
    int lows = 0, highs = 0;
    for (int i = 0; i < OPTION_COUNT; i++)
        for (int s = 0; s < SYSTEM_COUNT; s++) {
            const Option *option = &options[i];
            char value[100], unit[20];
            snprintf(unit, sizeof unit, option->unit ? "%s" : " %s", option->unit ? option->unit : systems[s]);
            Told told;
            snprintf(value, sizeof value, strstr(option->text, "cm angle: @") ? "-9999999999%s" : "-5%s", unit);
            if (is_told_well(option, systems[s], value, &told)) {
                lows++;
                if (strcmp(told.mend, value + 1) != 0) /* where a sign is a slip, the number without it is meant */
                    try_near(option, systems[s], told.mend, -1);
            }
            snprintf(value, sizeof value, "9999999999%s", unit);
            if (is_told_well(option, systems[s], value, &told)) {
                highs++;
                try_near(option, systems[s], told.mend, 1);
            }
        }
    assert_int_equal(lows, SYSTEM_COUNT * OPTION_COUNT);
    assert_true(highs >= SYSTEM_COUNT * (OPTION_COUNT - 4));
}

/* Every option that takes a number is tried. */
static void test_all_are_tried(void **state)
{
    (void)state;
    static const char *const others[] = {"at",   "every", "steps", "over",  "starts", "facing", "ends",
                                         "foot", "first", "last",  "count", "until",  "overlap"};
    TypeSet numbers =
        SET(TYPE_LENGTH) | SET(TYPE_TURNS) | SET(TYPE_ANGLE) | SET(TYPE_RATIO) | SET(TYPE_COUNT) | SET(TYPE_RATE);
    for (NodeKind kind = 0; kind < NODE_KIND_COUNT; kind++) {
        const OptionRules *rules = option_rules(kind);
        for (uint32_t r = 0; rules && r < rules->count; r++) {
            char name[60];
            snprintf(name, sizeof name, "%s: @", rules->rules[r].name);
            bool tried = !(rules->rules[r].types & numbers);
            for (size_t o = 0; o < sizeof others / sizeof *others; o++)
                tried |= strcmp(others[o], rules->rules[r].name) == 0; /* they have findings of their own */
            for (int i = 0; i < OPTION_COUNT && !tried; i++)
                tried = strstr(options[i].text, name);
            if (!tried)
                fail_msg("`%s` of %s is not tried", rules->rules[r].name, rules->owner);
        }
    }
}

/* Numbers that agree to nine digits are equal, and at the limit that is allowed. */
static void test_agreeing_to_nine_digits(void **state)
{
    (void)state;
    Told told;
    char text[LONGEST_TEXT];
    write_text(text, OF_BENCH("apart: @"), "in", "0.00393700787402 in");
    assert_false(tells(text, &told));
    write_text(text, OF_BENCH("apart: @"), "in", "0.0039370 in");
    assert_true(tells(text, &told));
    assert_string_equal(told.message, "`apart` is at least 0.004 in, and this is 0.0039 in; ");
    write_text(text, OF_BENCH("apart: @"), "mm", "0.09999999 mm");
    assert_true(tells(text, &told));
    assert_string_equal(told.message, "`apart` is at least 0.1 mm, and this is 0.09999999 mm; ");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_limits),
        cmocka_unit_test(test_all_are_tried),
        cmocka_unit_test(test_agreeing_to_nine_digits),
    };
    return cmocka_run_group_tests_name("options at their limits", tests, NULL, NULL);
}
