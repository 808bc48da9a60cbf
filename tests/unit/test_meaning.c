/* What a file means, by the tables of the reference: kinds that go together, values, threads, guides, blanks, the
 * bench. Everything is read back from the job, before anything is laid out. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "meaning/type.h"
#include "near.h"
#include "trade/colour.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST_TEXT = 4000 };

/* The text compiled, with an empty file for whatever it uses; errors: how many findings of error level. */
static Compilation *compiled(const char *text, uint64_t errors)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    turnlay_give(made, "tried.lay", text, strlen(text));
    while (turnlay_want(made).path)
        turnlay_give(made, "none.lay", "edition 1\n", 10);
    turnlay_finish(made);
    if (made->findings.errors != errors)
        fail_msg("%lu errors, and %lu expected: %s\n%s", (unsigned long)made->findings.errors,
                 (unsigned long)errors, made->findings.list.count ? made->findings.list.items[0].message : "none",
                 text);
    return made;
}

/* --- kinds --- */

static const unsigned numbers[] = {TYPE_COUNT, TYPE_RATIO, TYPE_LENGTH, TYPE_TURNS, TYPE_ANGLE, TYPE_RATE};
enum { NUMBER_COUNT = sizeof numbers / sizeof *numbers };

/* A kind's measure as powers of a millimetre, a turn and a degree. Products and quotients follow from them, but
 * that the language knows no powers, and no products of two measures but those the reference has. */
typedef struct Powers {
    int length, turns, angle;
} Powers;

static Powers powers_of(unsigned type)
{
    return type == TYPE_LENGTH  ? (Powers){1, 0, 0}
           : type == TYPE_TURNS ? (Powers){0, 1, 0}
           : type == TYPE_ANGLE ? (Powers){0, 0, 1}
           : type == TYPE_RATE  ? (Powers){-1, 1, 0}
                                : (Powers){0, 0, 0};
}

static bool is_plain(unsigned type) { return type == TYPE_COUNT || type == TYPE_RATIO; }

/* The number's kind with these powers; a ratio where there are none; TYPE_BROKEN if the language has no such. */
static unsigned kind_of(Powers powers)
{
    for (int i = 1; i < NUMBER_COUNT; i++) {
        Powers known = powers_of(numbers[i]);
        if (known.length == powers.length && known.turns == powers.turns && known.angle == powers.angle)
            return numbers[i];
    }
    return TYPE_BROKEN;
}

static void test_products_and_quotients(void **state)
{
    (void)state;
    for (int i = 0; i < NUMBER_COUNT; i++)
        for (int j = 0; j < NUMBER_COUNT; j++) {
            unsigned left = numbers[i], right = numbers[j];
            Powers a = powers_of(left), b = powers_of(right);
            unsigned product = kind_of((Powers){a.length + b.length, a.turns + b.turns, a.angle + b.angle});
            if (left == TYPE_COUNT && right == TYPE_COUNT)
                product = TYPE_COUNT;
            assert_int_equal(type_of_operation(OPERATOR_MULTIPLY, left, right), product);
            unsigned quotient = kind_of((Powers){a.length - b.length, a.turns - b.turns, a.angle - b.angle});
            assert_int_equal(type_of_operation(OPERATOR_DIVIDE, left, right), quotient);
        }
}

/* Both sides of one kind; counts and ratios mix to ratios. */
static void test_sums_and_comparisons(void **state)
{
    (void)state;
    static const Operator sums[] = {OPERATOR_ADD, OPERATOR_SUBTRACT},
                          orders[] = {OPERATOR_LESS, OPERATOR_LESS_EQUAL, OPERATOR_GREATER,
                                      OPERATOR_GREATER_EQUAL},
                          equals[] = {OPERATOR_EQUAL, OPERATOR_UNEQUAL};
    for (int i = 0; i < NUMBER_COUNT; i++)
        for (int j = 0; j < NUMBER_COUNT; j++) {
            unsigned left = numbers[i], right = numbers[j];
            unsigned both = left == right ? left : is_plain(left) && is_plain(right) ? TYPE_RATIO : TYPE_BROKEN;
            unsigned truth = both ? TYPE_TRUTH : TYPE_BROKEN;
            for (int k = 0; k < 2; k++)
                assert_int_equal(type_of_operation(sums[k], left, right), both);
            for (int k = 0; k < 4; k++)
                assert_int_equal(type_of_operation(orders[k], left, right), truth);
            for (int k = 0; k < 2; k++)
                assert_int_equal(type_of_operation(equals[k], left, right), truth);
        }
}

/* What is no number is only asked whether it is the same; lists not even that. */
static void test_what_is_no_number(void **state)
{
    (void)state;
    static const unsigned others[] = {TYPE_COLOUR,
                                      TYPE_THREAD,
                                      TYPE_TEXT,
                                      TYPE_BLANK,
                                      TYPE_GUIDE,
                                      TYPE_LIST + TYPE_THREAD,
                                      TYPE_LIST + TYPE_COUNT,
                                      TYPE_TRUTH};
    for (unsigned i = 0; i < sizeof others / sizeof *others; i++)
        for (unsigned j = 0; j < sizeof others / sizeof *others; j++)
            for (Operator operator= OPERATOR_OR; operator<= OPERATOR_DIVIDE; operator++) {
                bool asks = operator== OPERATOR_EQUAL || operator== OPERATOR_UNEQUAL;
                bool joins = operator== OPERATOR_OR || operator== OPERATOR_AND;
                unsigned left = others[i], right = others[j];
                bool may = (asks && left == right && left < TYPE_LIST)
                           || (joins && left == TYPE_TRUTH && right == TYPE_TRUTH);
                assert_int_equal(type_of_operation(operator, left, right), may ? TYPE_TRUTH : TYPE_BROKEN);
                assert_int_equal(type_of_operation(operator, left, TYPE_LENGTH), TYPE_BROKEN);
                assert_int_equal(type_of_operation(operator, TYPE_COUNT, right), TYPE_BROKEN);
            }
    for (int i = 0; i < NUMBER_COUNT; i++) {
        assert_int_equal(type_of_operation(OPERATOR_AND, numbers[i], TYPE_TRUTH), TYPE_BROKEN);
        assert_int_equal(type_of_operation(OPERATOR_OR, TYPE_TRUTH, numbers[i]), TYPE_BROKEN);
    }
}

/* A count serves where a ratio is wanted, the empty list where any list is; nothing else is ever guessed. */
static void test_what_serves_for_what(void **state)
{
    (void)state;
    for (unsigned type = TYPE_COUNT; type < 32; type++)
        for (unsigned wanted = TYPE_COUNT; wanted < 32; wanted++) {
            bool serves = type == wanted || (type == TYPE_COUNT && wanted == TYPE_RATIO)
                          || (type == TYPE_LIST + TYPE_NOTHING && wanted >= TYPE_LIST);
            assert_int_equal(type_fits(type, SET(wanted)), serves);
        }
    assert_true(type_fits(TYPE_TURNS, SET(TYPE_LENGTH) | SET(TYPE_TURNS)));
    assert_false(type_fits(TYPE_COUNT, SET(TYPE_LENGTH) | SET(TYPE_TURNS)));
}

/* --- values --- */

/* Each of these holds, by the reference's tables. */
static const char *const laws[] = {
    /* numbers and units */
    "1 in == 25.4 mm",
    "1 ft == 12 in",
    "1 yd == 3 ft",
    "1 cm == 10 mm",
    "1 m == 100 cm",
    "30 % == 0.3",
    "3/4 == 0.75",
    "3 1/4 == 3.25",
    "3 1/4 in == 82.55 mm",
    "1/2 in == 12.7 mm",
    "60 per 10 mm == 60 per cm",
    "25.4 per in == 10 per cm",
    "1 turn == 1 turns",
    /* sums, products, quotients */
    "2 mm + 3 mm == 5 mm",
    "5 turns - 7 turns == -2 turns",
    "-(2 mm) == 0 mm - 2 mm",
    "3 * 2 mm == 6 mm",
    "2 mm * 3 == 6 mm",
    "4 * 1/2 == 2",
    "50 % * 10 turns == 5 turns",
    "60 per cm * 1 cm == 60 turns",
    "1 cm * 60 per cm == 60 turns",
    "6 mm / 2 == 3 mm",
    "6 mm / 2 mm == 3",
    "7 / 2 == 3.5",
    "60 turns / 60 per cm == 10 mm",
    "60 turns / 1 cm == 60 per cm",
    "(2 + 3) turns == 5 turns",
    "30 deg / 2 == 15 deg",
    "2 * 3 + 4 == 10",
    "2 + 3 * 4 == 14",
    "(2 + 3) * 4 == 20",
    "10 - 3 - 2 == 5",
    "24 / 4 / 2 == 3",
    "24 / (4 / 2) == 12",
    "-2 * -3 == 6",
    /* comparisons, and what agrees to nine digits */
    "1 mm < 2 mm",
    "1 mm <= 2 mm",
    "2 mm > 1 mm",
    "2 mm >= 1 mm",
    "1 mm != 2 mm",
    "2 mm <= 2 mm",
    "2 mm >= 2 mm",
    "not (2 mm < 2 mm)",
    "not (2 mm > 2 mm)",
    "not (2 mm < 1 mm)",
    "not (1 mm > 2 mm)",
    "not (2 mm <= 1 mm)",
    "not (1 mm >= 2 mm)",
    "not (1 mm == 2 mm)",
    "not (2 mm != 2 mm)",
    "3 * 1.1 mm == 3.3 mm",
    "not (3 * 1.1 mm > 3.3 mm)",
    "not (3 * 1.1 mm != 3.3 mm)",
    "3 * 1.1 mm <= 3.3 mm",
    "1.00000001 mm != 1 mm",
    "1.0000000001 mm == 1 mm",
    "-1 < 0",
    "not (-1 == 1)",
    "1 != -1",
    "1000000.01 mm != 1000000 mm",
    "1000000.0001 mm == 1000000 mm",
    /* truth */
    "yes",
    "not no",
    "yes and yes",
    "not (yes and no)",
    "not (no and yes)",
    "not (no and no)",
    "yes or no",
    "no or yes",
    "yes or yes",
    "not (no or no)",
    "yes or no and no",
    "not no and yes",
    "yes == yes",
    "yes != no",
    "not (yes == no)",
    "1 < 2 and 2 < 3",
    "1 < 2 or 1 / count([navy]) < 0",
    /* what is no number */
    "navy == navy",
    "navy != mist",
    "not (navy == mist)",
    "#22346b == #22346b",
    "#22346b != #22346c",
    "\"a\" == \"a\"",
    "\"a\" != \"b\"",
    "first([navy, mist]) == navy",
    "ring == ring",
    "ring != eyelet",
    "not (ring == eyelet)",
    /* lists */
    "count([1, 2, 3]) == 3",
    "count([]) == 0",
    "count([navy]) == 1",
    "first([4, 5, 6]) == 4",
    "last([4, 5, 6]) == 6",
    "first(rest([4, 5, 6])) == 5",
    "count(rest([4, 5, 6])) == 2",
    "last(rest([4, 5, 6])) == 6",
    "first(reverse([4, 5, 6])) == 6",
    "last(reverse([4, 5, 6])) == 4",
    "first(rest(reverse([4, 5, 6]))) == 5",
    "count(reverse([4, 5])) == 2",
    "count(rest([4])) == 0",
    "last([1, 1/2]) == 0.5",
    /* rounding: halves away from zero, whatever the machine makes of them */
    "round(2.5) == 3",
    "round(-2.5) == -3",
    "round(2.4) == 2",
    "round(2.6) == 3",
    "round(-2.4) == -2",
    "floor(2.9) == 2",
    "floor(-2.1) == -3",
    "floor(3) == 3",
    "ceil(2.1) == 3",
    "ceil(-2.9) == -2",
    "ceil(3) == 3",
    "round(0.35 * 10) == 4",
    "round(1.15 * 10 + 1) == 13",
    "floor(0.7 / 0.1) == 7",
    "ceil(3 * 1.1 / 1.1) == 3",
    "round(2.5 turns) == 3 turns",
    "floor(2.9 turns) == 2 turns",
    "ceil(2.1 turns) == 3 turns",
    "round(0.5) == 1",
    "round(-0.5) == -1",
    "round(0.49) == 0",
    /* most and least, width */
    "min(3, 2, 4) == 2",
    "max(3, 4, 2) == 4",
    "min(2 mm, 3 mm) == 2 mm",
    "max(2 mm, 3 mm) == 3 mm",
    "min(5) == 5",
    "max(-2, -3) == -2",
    "min(-2, -3) == -3",
    "min(1, 1/2) == 0.5",
    "abs(-3 mm) == 3 mm",
    "abs(3 mm) == 3 mm",
    "abs(-2) == 2",
    "width(67 turns, navy) == 10 mm",
    "width(10 turns, mist) == 2 mm",
    "width(1 turn, spacer(mist)) == 0.2 mm",
};

#define SHOP                                                                                                      \
    "edition 1\nthread navy { turns: 67 per cm }\nthread mist { diameter: 0.2 mm }\n"                             \
    "guide ring { foot: 14 mm }\nguide eyelet { foot: 14 mm }\n"                                                  \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"

/* In a layer that winds a band after it, and, turned round, one that fails. */
static void test_laws(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof laws / sizeof *laws; i++) {
        char text[LONGEST_TEXT];
        snprintf(text, sizeof text,
                 SHOP "rod \"Law\" on tube { at 20 cm { require %s  band 40 turns of navy } }\n", laws[i]);
        turnlay_free(compiled(text, 0));
        snprintf(text, sizeof text,
                 SHOP "rod \"Law\" on tube { at 20 cm { require not (%s), \"so\"  band 40 turns of navy } }\n",
                 laws[i]);
        Compilation *failing = compiled(text, 1);
        assert_int_equal(failing->findings.list.items[0].code, FINDING_REQUIRE_FAILS);
        assert_string_equal(failing->findings.list.items[0].message, "so");
        turnlay_free(failing);
    }
}

/* Odd, and right: names that look like something else, options called like words of the language, commas. */
static const char *const sound[] = {
    "let cm = 10 mm\nlet rate = 67 turns / cm",
    "let cm = 2\nlet half = 67 / cm",
    "use \"store\" as store { edition 1 let cm = 10 mm }\nlet rate = 67 turns / store.cm",
    "use \"store\" { edition 1 let cm = 10 mm }\nlet rate = 67 turns / cm",
    "pattern wide(cm: length) { band 67 turns / cm * 9 mm of navy }",
    "pattern called(true: truth, yes_or_no: truth = no) { if true or yes_or_no { band 40 turns of navy } }",
    "let true = yes\nbench { seal: true }",
    "let red = #aa0000\nthread foam { turns: 67 per cm, colour: red }",
    "thread teal { turns: 67 per cm, colour: teal, bare: navy }",
    "thread foam { turns: 67 per cm, colours: [navy, teal, #ffffff], period: 9 cm }",
    "pattern shown(tan: thread, red: colour = coral) { if red == #ff7f50 { band 40 turns of tan } }\n"
    "pattern all(tan: thread) { shown(tan, olive)  shown(tan, red: gray) }",
    "let words = \"a\"\nabout { title: words }",
    "bench { bind: 5 turns, , loop: 5 turns,  }",
    "thread foam { turns: 67 per cm,, colour: #22346b, }",
    "blank other { at 0 mm: 12 mm, at 10 mm: 11 mm, }",
    "pattern p(a: count, b: count,) { repeat a * b { band 40 turns of navy } }\npattern q() { p(1, 2,) p(b: 1, a: 2) p(1, b: 2) }",
    "size navy { diameter: 0.15 mm }\nthread foam { size: navy }",
    "size A { diameter: 0.2 mm }\nthread foam { size: A }",
    "let list = [1, 2, 3,]\nlet none = []\nlet how_many = count(none)",
    "pattern each() { for i in [] { band 40 turns of navy } for shade in [navy, mist] { band 40 turns of shade } }",
    "pattern hides(navy: thread) { let mist = navy  for mist in [mist] { band 40 turns of mist } band 40 turns of mist }",
    "let a = b\nlet b = c\nlet c = 3",
    "bench { flattest: 20 deg, steepest: 21 deg }",
    "guide two { foot: [19 mm, 17 mm], ramp: 17 mm }",
    "about { title: \"\\\"quoted\\\" and \\\\\" }",
};

static void test_sound_texts(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof sound / sizeof *sound; i++) {
        char text[LONGEST_TEXT];
        snprintf(text, sizeof text, "%s%s\nrod \"A\" on tube { at 20 cm { band 40 turns of navy } }\n", SHOP,
                 sound[i]);
        Compilation *made = compiled(text, 0);
        assert_int_equal(made->findings.warnings, 0);
        turnlay_free(made);
    }
}

/* --- threads --- */

/* What stands in the text there. */
static const char *text_of_span(const char *text, Span span)
{
    static char part[LONGEST_TEXT];
    snprintf(part, sizeof part, "%.*s", (int)(span.end - span.start), text + span.start);
    return part;
}

#define WORD(name, option) [WIDTH_##name] = option ":",
static const char *const width_words[] = {WIDTH_TABLE(WORD)};

/* What a thread is by its options. Density of silk 1.34 g/cm3, of nylon 1.14: the reference's table. */
typedef struct ThreadCase {
    const char *options;
    WidthSource source;
    double pitch, diameter, uncertainty;
} ThreadCase;

static double yarn(double tex, double density, double fullness)
{
    const double pi = 3.14159265358979323846;
    return sqrt(4 * tex * 1e-3 / (pi * density * fullness)); /* tex is mg a metre; mm from mg and mm3 */
}

static const Thread *thread_called(const Compilation *made, const char *name)
{
    for (uint32_t i = 0; i < made->job->thread_count; i++)
        if (strcmp(made->job->threads[i]->name->bytes, name) == 0)
            return made->job->threads[i];
    fail_msg("no thread %s", name);
    return NULL;
}

/* `turns`, `diameter`, `size`, `tex`: in that order they count, and packing is not applied to `turns`. */
static void test_widths_of_threads(void **state)
{
    (void)state;
    const ThreadCase cases[] = {
        {"turns: 50 per cm", WIDTH_COUNTED, 0.2, 0.2, 0.01},
        {"diameter: 0.25 mm", WIDTH_MEASURED, 0.25, 0.25, 0.01},
        {"size: Z", WIDTH_NOMINAL, 0.16, 0.16, 0.2},
        {"size: Y", WIDTH_NOMINAL, 0.3, 0.3, 0.08},
        {"tex: 24, fibre: nylon", WIDTH_FROM_TEX, yarn(24, 1.14, 0.7), yarn(24, 1.14, 0.7), 0.1},
        {"tex: 24, fibre: polyester", WIDTH_FROM_TEX, yarn(24, 1.39, 0.7), yarn(24, 1.39, 0.7), 0.1},
        {"tex: 30, fibre: silk, fullness: 75 %", WIDTH_FROM_TEX, yarn(30, 1.34, 0.75), yarn(30, 1.34, 0.75), 0.1},
        {"tex: 24, fibre: viscose", WIDTH_FROM_TEX, yarn(24, 1.49, 0.7), yarn(24, 1.49, 0.7), 0.1},
        {"tex: 24, fibre: cotton", WIDTH_FROM_TEX, yarn(24, 1.52, 0.7), yarn(24, 1.52, 0.7), 0.1},
        {"tex: 24, fibre: polypropylene", WIDTH_FROM_TEX, yarn(24, 0.91, 0.7), yarn(24, 0.91, 0.7), 0.1},
        {"tex: 24, fibre: aramid", WIDTH_FROM_TEX, yarn(24, 1.44, 0.7), yarn(24, 1.44, 0.7), 0.1},
        {"turns: 50 per cm, diameter: 0.25 mm", WIDTH_COUNTED, 0.2, 0.25, 0.01},
        {"turns: 50 per cm, size: Z", WIDTH_COUNTED, 0.2, 0.16, 0.01},
        {"turns: 50 per cm, size: Y, tex: 24, fibre: silk", WIDTH_COUNTED, 0.2, 0.3, 0.01},
        {"turns: 50 per cm, tex: 24, fibre: silk", WIDTH_COUNTED, 0.2, yarn(24, 1.34, 0.7), 0.01},
        {"diameter: 0.25 mm, size: Y", WIDTH_MEASURED, 0.25, 0.25, 0.01},
        {"diameter: 0.25 mm, tex: 24, fibre: silk", WIDTH_MEASURED, 0.25, 0.25, 0.01},
        {"size: Z, tex: 24, fibre: silk", WIDTH_NOMINAL, 0.16, 0.16, 0.2},
        {"diameter: 0.2 mm, packing: 1.05", WIDTH_MEASURED, 0.21, 0.2, 0.01},
        {"size: Z, packing: 1.5", WIDTH_NOMINAL, 0.24, 0.16, 0.2},
        {"tex: 24, fibre: silk, packing: 2", WIDTH_FROM_TEX, 2 * yarn(24, 1.34, 0.7), yarn(24, 1.34, 0.7), 0.1},
        {"turns: 50 per cm, packing: 1.5", WIDTH_COUNTED, 0.2, 0.2, 0.01},
        {"turns: 50 per cm, uncertainty: 3 %", WIDTH_COUNTED, 0.2, 0.2, 0.03},
        {"size: Y, uncertainty: 0 %", WIDTH_NOMINAL, 0.3, 0.3, 0},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[LONGEST_TEXT];
        snprintf(text, sizeof text,
                 SHOP "size Z { diameter: 0.16 mm }\nsize Y { diameter: 0.3 mm, uncertainty: 8 %% }\n"
                      "thread tried { %s }\nrod \"A\" on tube { at 20 cm { band 40 turns of navy } }\n",
                 cases[i].options);
        Compilation *made = compiled(text, 0);
        const Thread *thread = thread_called(made, "tried");
        assert_int_equal(thread->width_source, cases[i].source);
        assert_near(thread->pitch, cases[i].pitch, 1e-12);
        assert_near(thread->diameter, cases[i].diameter, 1e-12);
        assert_near(thread->uncertainty, cases[i].uncertainty, 1e-12);
        if (cases[i].source == WIDTH_NOMINAL)
            assert_string_equal(thread->size->bytes, strstr(cases[i].options, "size: Z") ? "Z" : "Y");
        assert_string_equal(text_of_span(text, thread->span), "tried");
        const char *option = text_of_span(text, thread->width_span), *word = width_words[cases[i].source];
        assert_memory_equal(option, word, strlen(word));
        turnlay_free(made);
    }
}

/* What else is said of a thread, and what is taken where nothing is. */
static void test_other_options_of_threads(void **state)
{
    (void)state;
    Compilation *made =
        compiled("edition 1\n"
                 "thread plain { turns: 67 per cm }\n"
                 "thread full { turns: 67 per cm, colour: #22346b, bare: #4c6a9c, preserver: yes, stock: 120 m,"
                 " spool: 90 m, price: 4.5, opacity: 65 %, sheen: metallic, code: \"N 104/b\" }\n"
                 "thread cared { turns: 67 per cm, colour: #102030, preserver: no, opacity: 0, sheen: matt }\n"
                 "thread shaded { turns: 67 per cm, colours: [#000000, #ffffff, #000000], period: 9 cm }\n"
                 "thread named { turns: 67 per cm, colours: [#000000, #ffffff], period: 1 in, colour: #123456,"
                 " sheen: gloss, opacity: 1 }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"A\" on tube { at 20 cm { band 40 turns of plain } }\n",
                 0);
    const Thread *plain = thread_called(made, "plain"), *full = thread_called(made, "full"),
                 *cared = thread_called(made, "cared"), *shaded = thread_called(made, "shaded"),
                 *named = thread_called(made, "named");
    assert_int_equal(plain->colour, 0x808080); /* mid grey */
    assert_int_equal(plain->bare, 0x808080);
    assert_false(plain->has_bare || plain->preserver);
    assert_true(isnan(plain->stock) && isnan(plain->spool) && isnan(plain->price) && isnan(plain->period));
    assert_int_equal(plain->colour_count, 0);
    assert_true(plain->opacity == 1 && named->opacity == 1 && cared->opacity == 0);
    assert_near(full->opacity, 0.65, 1e-12);
    assert_true(plain->sheen == SHEEN_GLOSS && named->sheen == SHEEN_GLOSS);
    assert_true(full->sheen == SHEEN_METALLIC && cared->sheen == SHEEN_MATT);
    assert_null(plain->code);
    assert_string_equal(full->code->bytes, "N 104/b");
    assert_int_equal(full->colour, 0x22346b);
    assert_int_equal(full->bare, 0x4c6a9c);
    assert_true(full->has_bare && full->preserver);
    assert_near(full->stock, 120000, 1e-9);
    assert_near(full->spool, 90000, 1e-9);
    assert_near(full->price, 4.5, 1e-12);
    assert_int_equal(cared->bare, 0x102030);
    assert_false(cared->has_bare || cared->preserver);
    assert_int_equal(shaded->colour_count, 3);
    assert_int_equal(shaded->colours[1], 0xffffff);
    assert_near(shaded->period, 90, 1e-12);
    /* A third of white light, IEC 61966-2-1: 1.055 (1/3)^(1/2.4) - 0.055, of 255. */
    int grey = (int)round(255 * (1.055 * pow(1.0 / 3, 1 / 2.4) - 0.055));
    assert_int_equal(shaded->colour, grey << 16 | grey << 8 | grey);
    assert_int_equal(named->colour, 0x123456);
    assert_near(named->period, 25.4, 1e-12);
    for (uint32_t i = 0; i < made->job->thread_count; i++)
        assert_int_equal(made->job->threads[i]->index, i);
    turnlay_free(made);
}

/* `colour: navy` is the colour of that name, whatever else goes by it, but for a colour that the file calls so. */
static void test_named_colours(void **state)
{
    (void)state;
    static const struct {
        const char *before, *colour;
        uint32_t is;
    } cases[] = {
        {"", "navy", 0x000080},
        {"thread navy { turns: 67 per cm, colour: #123456 }\n", "navy", 0x000080},
        {"let navy = #123456\n", "navy", 0x123456},
        {"let navy = 3 mm\n", "navy", 0x000080},
        {"let navy = other\nlet other = #123456\n", "navy", 0x123456},
        {"guide navy { foot: 14 mm }\n", "navy", 0x000080},
        {"use \"shop\" { edition 1 let navy = #123456 }\n", "navy", 0x123456},
        {"use \"shop\" { edition 1 thread navy { turns: 67 per cm } }\n", "navy", 0x000080},
        {"use \"shop\" as shop { edition 1 let navy = #123456 }\n", "navy", 0x000080},
        {"use \"shop\" as shop { edition 1 let navy = #123456 }\n", "shop.navy", 0x123456},
        {"let navy = #123456\nuse \"shop\" { edition 1 let navy = #654321 }\n", "navy", 0x123456},
        {"", "rebeccapurple", 0x663399},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[LONGEST_TEXT];
        snprintf(text, sizeof text,
                 "edition 1\n%sthread tried { turns: 67 per cm, colour: %s, bare: teal }\n"
                 "thread listed { turns: 67 per cm, colours: [%s, white], period: 9 cm }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"A\" on tube { at 20 cm { band 40 turns of tried } }\n",
                 cases[i].before, cases[i].colour, cases[i].colour);
        Compilation *made = compiled(text, 0);
        assert_int_equal(thread_called(made, "tried")->colour, cases[i].is);
        assert_int_equal(thread_called(made, "tried")->bare, 0x008080);
        assert_int_equal(thread_called(made, "listed")->colours[0], cases[i].is);
        assert_int_equal(thread_called(made, "listed")->colours[1], 0xffffff);
        turnlay_free(made);
    }
    /* Elsewhere the name is the thread. */
    Compilation *made = compiled("edition 1\nthread navy { turns: 67 per cm, colour: navy }\n"
                                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                                 "rod \"A\" on tube { at 20 cm { band 40 turns of navy } }\n",
                                 0);
    assert_string_equal(made->job->rods[0].places[0].layers[0].items[0].strands->items[0].thread->name->bytes,
                        "navy");
    turnlay_free(made);
    turnlay_free(compiled("edition 1\nlet blue = navy\n", 1));
    turnlay_free(compiled("edition 1\nlet navy = 3 mm / 0\nthread tried { turns: 67 per cm, colour: navy }\n", 1));
}

/* --- guides, blanks, places --- */

static void test_guides_and_places(void **state)
{
    (void)state;
    Compilation *made = compiled(
        "edition 1\nthread navy { turns: 67 per cm }\n"
        "blank tube { colour: saddlebrown, at 5 cm: 12 mm  at 50 cm: 9 mm  at 105 cm: 4 mm, sheen: matt }\n"
        "blank other { at 0 mm: 12 mm  at 50 cm: 9 mm }\n"
        "rod \"B\" on other { at 20 cm { band 20 turns of navy } }\n"
        "guide one { foot: 14 mm }\n"
        "guide two { foot: [19 mm, 17 mm], gap: 6 mm, width: 3 mm, height: 1.5 mm, ramp: 4 mm, before: 2 mm }\n"
        "guide turned { foot: 12 mm, side: butt, ring: 16 mm, tall: 24 mm, frame: #202428, insert: #14161a,"
        " sheen: matt }\n"
        "guide straight { foot: 12 mm, side: tip, ring: 6 mm, tall: 6 mm, sheen: metallic }\n"
        "rod \"A\" on tube {\n"
        "  at 20 cm guide: one { band fill of navy }\n"
        "  at 30 cm guide: two { band fill of navy }\n"
        "  at 40 cm guide: turned { band fill of navy }\n"
        "  at 50 cm guide: straight { band fill of navy }\n"
        "  at 60 cm toward: butt length: 20 mm { band fill of navy }\n"
        "  at 30 cm from: tip toward: tip length: 12 mm { band fill of navy }\n"
        "  at 80 cm { under { gap 1 mm  band 40 turns of navy } over offset: 2 mm length: 5 mm { band fill of navy } }\n"
        "}\n",
        0);
    const Rod *rod = &made->job->rods[1];
    assert_string_equal(rod->title->bytes, "A");
    assert_int_equal(rod->blank->station_count, 3);
    assert_true(rod->blank->coloured && rod->blank->colour == 0x8b4513 && rod->blank->sheen == SHEEN_MATT);
    const Blank *other = made->job->rods[0].blank;
    assert_true(!other->coloured && other->colour == 0x3a4143 && other->sheen == SHEEN_GLOSS);
    assert_near(rod->blank->stations[1].at, 500, 1e-9);
    assert_near(rod->blank->stations[2].diameter, 4, 1e-9);
    assert_int_equal(rod->place_count, 7);
    const Guide *one = rod->places[0].guide, *two = rod->places[1].guide;
    assert_int_equal(one->foot_count, 1);
    assert_near(one->feet[0], 14, 1e-12);
    assert_true(one->gap == 0 && one->width == 0 && one->height == 0 && one->ramp == 0 && one->before == 0);
    assert_false(one->on_butt_side);
    assert_int_equal(two->foot_count, 2);
    assert_near(two->feet[0], 19, 1e-12);
    assert_near(two->feet[1], 17, 1e-12);
    assert_near(two->gap, 6, 1e-12);
    assert_near(two->width, 3, 1e-12);
    assert_near(two->height, 1.5, 1e-12);
    assert_near(two->ramp, 4, 1e-12);
    assert_near(two->before, 2, 1e-12);
    assert_true(rod->places[2].guide->on_butt_side);
    assert_false(rod->places[3].guide->on_butt_side);
    const Guide *turned = rod->places[2].guide, *straight = rod->places[3].guide;
    assert_true(isnan(one->ring) && isnan(one->tall) && one->sheen == SHEEN_GLOSS);
    assert_true(one->frame == NO_COLOUR && one->insert == NO_COLOUR);
    assert_near(turned->ring, 16, 1e-12);
    assert_near(turned->tall, 24, 1e-12);
    assert_true(turned->frame == 0x202428 && turned->insert == 0x14161a && turned->sheen == SHEEN_MATT);
    assert_true(straight->ring == 6 && straight->tall == 6 && straight->sheen == SHEEN_METALLIC);
    assert_int_equal(rod->places[0].direction, 0);
    assert_int_equal(rod->places[4].direction, -1);
    assert_near(rod->places[4].mark, 600, 1e-9);
    assert_false(rod->places[4].from_tip);
    assert_near(rod->places[4].length, 20, 1e-12);
    assert_int_equal(rod->places[5].direction, 1);
    assert_true(rod->places[5].from_tip);
    assert_near(rod->places[5].mark, 1050 - 300, 1e-9);
    assert_int_equal(rod->places[6].direction, 1);
    assert_true(isnan(rod->places[6].length));
    assert_int_equal(rod->places[6].layer_count, 2);
    const Layer *under = &rod->places[6].layers[0], *over = &rod->places[6].layers[1];
    assert_false(under->over);
    assert_true(over->over);
    assert_true(under->offset == 0 && isnan(under->length));
    assert_near(over->offset, 2, 1e-12);
    assert_near(over->length, 5, 1e-12);
    assert_true(rod->places[0].layers[0].over);
    turnlay_free(made);
}

/* --- the bench --- */

/* What the reference says is taken where nothing is said, and another value for each; read from the job by the
 * function. Lengths in mm, angles in degrees, choices by number in the order of the reference's words. */
typedef struct Habit {
    const char *option, *otherwise, *other;
    double left_out, said;
    double (*read)(const Bench *);
    double in_inches; /* left out where lengths are in inches; 0: the same */
} Habit;

#define READ(name, value)                                                                                         \
    static double name(const Bench *bench) { return value; }
READ(read_units, bench->units)
READ(read_bind, bench->bind)
READ(read_loop, bench->loop)
READ(read_final, bench->final)
READ(read_free, bench->free)
READ(read_tolerance, bench->tolerance)
READ(read_hand, bench->hand)
READ(read_ridge, bench->ridge)
READ(read_apart, bench->apart)
READ(read_rule, bench->rule.step)
READ(read_callipers, bench->callipers.step)
READ(read_friction, bench->friction)
READ(read_measure, isnan(bench->measure) ? -1 : bench->measure)
READ(read_coat, bench->coat)
READ(read_speed, bench->speed)
READ(read_handling, bench->handling)
READ(read_holders, bench->holders)
READ(read_bobbins, bench->bobbins)
READ(read_pack, bench->pack)
READ(read_carry, bench->carry)
READ(read_order, bench->order)
READ(read_butt_right, !bench->butt_left)
READ(read_away, !bench->toward_you)
READ(read_dress, bench->dress)
READ(read_tape, bench->tape)
READ(read_align, bench->align)
READ(read_singe, bench->singe)
READ(read_lock, bench->lock)
READ(read_seal, bench->seal)
READ(read_coats, bench->coats)
READ(read_reading, bench->reading)
READ(read_varies, bench->varies)
READ(read_ends, bench->ends)
READ(read_flattest, bench->flattest * 180 / 3.14159265358979323846)
READ(read_steepest, bench->steepest * 180 / 3.14159265358979323846)
READ(read_stack, bench->stack)
READ(read_paper, bench->paper)
READ(read_shortest, bench->shortest)
READ(read_sight, bench->sight)
READ(read_near, bench->near)
READ(read_far, bench->far)
READ(read_jump, bench->jump)
READ(read_alike, bench->alike)

static const Habit habits[] = {
    {"units", "mm", "in", SYSTEM_MM, SYSTEM_IN, read_units, 0},
    {"units", "mm", "cm", SYSTEM_MM, SYSTEM_CM, read_units, 0},
    {"bind", "6 turns", "7 turns", 6, 7, read_bind, 0},
    {"loop", "4 turns", "5 turns", 4, 5, read_loop, 0},
    {"final", "8 turns", "9 turns", 8, 9, read_final, 0},
    {"free", "15 cm", "12 cm", 150, 120, read_free, 0},
    {"tolerance", "0.5 mm", "0.7 mm", 0.5, 0.7, read_tolerance, 0},
    {"hand", "1.5 m", "2 m", 1500, 2000, read_hand, 0},
    {"ridge", "3", "4", 3, 4, read_ridge, 0},
    {"apart", "0.5 mm", "0.8 mm", 0.5, 0.8, read_apart, 0},
    {"rule", "0.5 mm", "1 mm", 0.5, 1, read_rule, 25.4 / 64},
    {"rule", "0.5 mm", "1/32 in", 0.5, 25.4 / 32, read_rule, 25.4 / 64},
    {"callipers", "0.1 mm", "0.05 mm", 0.1, 0.05, read_callipers, 0.127},
    {"callipers", "0.1 mm", "0.001 in", 0.1, 0.0254, read_callipers, 0.127},
    {"friction", "0.2", "0.3", 0.2, 0.3, read_friction, 0},
    {"measure", NULL, "50 turns", -1, 50, read_measure, 0},
    {"reading", "0.15 mm", "0.2 mm", 0.15, 0.2, read_reading, 0},
    {"varies", "1 %", "2 %", 0.01, 0.02, read_varies, 0},
    {"coat", "0.25 mm", "0.4 mm", 0.25, 0.4, read_coat, 0},
    {"speed", "60", "90", 60, 90, read_speed, 0},
    {"handling", "60", "45", 60, 45, read_handling, 0},
    {"holders", "2", "3", 2, 3, read_holders, 0},
    {"bobbins", "0", "3", 0, 3, read_bobbins, 0},
    {"carry", "15 turns", "9 turns", 15, 9, read_carry, 0},
    {"pack", "40 turns", "30 turns", 40, 30, read_pack, 0},
    {"order", "source", "butt", 0, 1, read_order, 0},
    {"order", "source", "tip", 0, 2, read_order, 0},
    {"left", "butt", "tip", 0, 1, read_butt_right, 0},
    {"rotation", "toward", "away", 0, 1, read_away, 0},
    {"dress", "yes", "no", 1, 0, read_dress, 0},
    {"tape", "yes", "no", 1, 0, read_tape, 0},
    {"align", "yes", "no", 1, 0, read_align, 0},
    {"singe", "yes", "no", 1, 0, read_singe, 0},
    {"lock", "no", "yes", 0, 1, read_lock, 0},
    {"seal", "no", "yes", 0, 1, read_seal, 0},
    {"coats", "2", "3", 2, 3, read_coats, 0},
    {"ends", "tape", "pins", 0, 1, read_ends, 0},
    {"ends", "tape", "none", 0, 2, read_ends, 0},
    {"flattest", "10 deg", "12 deg", 10, 12, read_flattest, 0},
    {"steepest", "70 deg", "65 deg", 70, 65, read_steepest, 0},
    {"stack", "6", "8", 6, 8, read_stack, 0},
    {"paper", "0.1 mm", "0.2 mm", 0.1, 0.2, read_paper, 0},
    {"shortest", "1 turn", "3 turns", 1, 3, read_shortest, 0},
    {"sight", "0.5", "0.8", 0.5, 0.8, read_sight, 0},
    {"near", "60 cm", "45 cm", 600, 450, read_near, 0},
    {"far", "2 m", "10 ft", 2000, 3048, read_far, 0},
    {"jump", "3", "2.5", 3, 2.5, read_jump, 0},
    {"alike", "2", "0", 2, 0, read_alike, 0},
};
enum { HABIT_COUNT = sizeof habits / sizeof *habits };

/* The bench with one option written, or none: every habit but that one is what is taken where nothing is said. */
static void check_bench(const char *option, const char *value, int said)
{
    char text[LONGEST_TEXT], bench[100] = "";
    if (option)
        snprintf(bench, sizeof bench, "%s: %s", option, value);
    snprintf(text, sizeof text,
             "edition 1\nbench { %s }\nthread navy { turns: 67 per 10 mm }\n"
             "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
             "rod \"A\" on tube { at 200 mm { band 40 turns of navy } }\n",
             bench);
    Compilation *made = compiled(text, 0);
    for (int i = 0; i < HABIT_COUNT; i++) {
        bool this = option && strcmp(option, habits[i].option) == 0;
        if (this && i != said)
            continue;
        double wanted = said == i && value == habits[i].other ? habits[i].said : habits[i].left_out;
        if (habits[i].in_inches && said >= 0 && !strcmp(value, "in"))
            wanted = habits[i].in_inches;
        double is = habits[i].read(&made->job->bench);
        if (fabs(is - wanted) > 1e-9)
            fail_msg("`%s` is %g, and %g by the reference, with `%s`", habits[i].option, is, wanted, bench);
    }
    turnlay_free(made);
}

static void test_habits(void **state)
{
    (void)state;
    check_bench(NULL, NULL, -1);
    for (int i = 0; i < HABIT_COUNT; i++) {
        if (habits[i].otherwise)
            check_bench(habits[i].option, habits[i].otherwise, i);
        check_bench(habits[i].option, habits[i].other, i);
    }
}

/* Without `units`, those of the file's first length: a length with a unit, of whatever statement. */
/* As places are written, or where none is a plain length, as the file's first length is. */
static void test_units_where_none_are_said(void **state)
{
    (void)state;
    static const struct {
        const char *text, *places;
        UnitSystem units;
    } cases[] = {
        {"let a = 1 in", "at 200 mm {} at 30 cm {}", SYSTEM_MM},
        {"let a = 1 in", "at 20 cm {}", SYSTEM_CM_AND_MM},
        {"let a = 1 in", "at 0.2 m {}", SYSTEM_CM_AND_MM},
        {"let a = 1 mm", "at 8 in {}", SYSTEM_IN},
        {"let a = 1 mm", "at 1/2 ft {}", SYSTEM_IN},
        {"let a = 1 mm", "at start {} at 8 in {}", SYSTEM_IN},
        {"let a = 1 mm", "at start {}", SYSTEM_MM},
        {"let a = 1 cm", "at start + 2 mm {}", SYSTEM_CM_AND_MM},
        {"let a = 1 in", "at start {}", SYSTEM_IN},
        {"let a = 1 m", "at start {}", SYSTEM_CM_AND_MM},
        {"let a = 1 ft", "at start {}", SYSTEM_IN},
        {"let a = 1 yd", "at start {}", SYSTEM_IN},
        {"let a = 3 turns let b = 2 in let c = 1 mm", "at start {}", SYSTEM_IN},
        {"let a = 30 % let b = 4 deg let c = 3 cm let d = 2 in", "at start {}", SYSTEM_CM_AND_MM},
        {"use \"shop\" { let a = 1 mm use \"deep\" { let b = 1 mm } let c = 1 mm } let d = 2 in", "at start {}",
         SYSTEM_IN},
        {"use \"one\" { let a = 1 in } use \"two\" as two { let b = 1 in }", "at start {}", SYSTEM_MM},
        {"use \"one\" { blank b { at 0 in: 1 in at 9 in: 1/2 in } rod \"R\" on b { at 2 in {} } }", "at start {}",
         SYSTEM_MM},
        {"let a = 1 in bench { units: cm }", "at 20 mm {}", SYSTEM_CM},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[LONGEST_TEXT];
        snprintf(text, sizeof text,
                 "edition 1\n%s\nlet start = 15 mm\nthread navy { diameter: 0.15 mm }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nrod \"A\" on tube { %s }\n",
                 cases[i].text, cases[i].places);
        Compilation *made = compiled(text, 0);
        assert_int_equal(made->job->bench.units, cases[i].units);
        turnlay_free(made);
    }
}

/* Two threads of one name are two spools: those of used files have their file's name before theirs, also where the
 * files are held in braces. */
static void test_threads_of_one_name(void **state)
{
    (void)state;
    Compilation *made = compiled("edition 1\n"
                                 "use \"shop\" as mine { edition 1 thread navy { turns: 60 per cm }"
                                 " thread rust { turns: 60 per cm } }\n"
                                 "use \"store\" { edition 1 use \"deep\" as deep { edition 1"
                                 " thread navy { turns: 61 per cm } thread rust { turns: 61 per cm } }\n"
                                 " thread mist { turns: 62 per cm } thread navy { turns: 62 per cm } }\n"
                                 "thread navy { turns: 67 per cm }\n"
                                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                                 "rod \"A\" on tube { at 20 cm { band 40 turns of navy } }\n",
                                 0);
    static const struct {
        const char *name;
        double per_cm;
    } threads[] = {{"navy", 67}, {"mine.navy", 60}, {"rust", 60},     {"store.navy", 62},
                   {"mist", 62}, {"deep.navy", 61}, {"deep.rust", 61}};
    enum { COUNT = sizeof threads / sizeof *threads };
    assert_int_equal(made->job->thread_count, COUNT);
    for (int i = 0; i < COUNT; i++)
        assert_near(thread_called(made, threads[i].name)->pitch, 10 / threads[i].per_cm, 1e-12);
    turnlay_free(made);
}

static void test_about(void **state)
{
    (void)state;
    Compilation *made =
        compiled("edition 1\nlet who = \"Shop copy\"\n"
                 "about { version: \"2\", title: \"Harbour\", licence: \"CC-BY-4.0\", author: who }\n"
                 "thread navy { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"A\" on tube { at 20 cm { band 40 turns of navy } }\n",
                 0);
    assert_string_equal(made->job->about.title->bytes, "Harbour");
    assert_string_equal(made->job->about.author->bytes, "Shop copy");
    assert_string_equal(made->job->about.version->bytes, "2");
    assert_string_equal(made->job->about.licence->bytes, "CC-BY-4.0");
    turnlay_free(made);
}

/* A thread that is changed for a rod has its name and the rod's title; where both are taken, a number besides. */
static void test_changed_threads_have_names_of_their_own(void **state)
{
    (void)state;
    static const char *const names[] = {"dusk", "dusk (Other)", "dusk (Other 2)", "dusk (Other 3)"};
    Compilation *made =
        compiled("edition 1\nlet deep = #22346b\nthread dusk { turns: 67 per cm, colour: deep }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"One\" on tube { at 20 cm { band 40 turns of dusk } }\n"
                 "rod \"Other\" like \"One\" { deep: teal }\nrod \"Other\" like \"One\" { deep: gold }\n"
                 "rod \"Other\" like \"One\" { deep: #123456 }\n",
                 0);
    assert_int_equal(made->job->thread_count, sizeof names / sizeof *names);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        assert_string_equal(made->job->threads[i]->name->bytes, names[i]);
    turnlay_free(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_products_and_quotients),
        cmocka_unit_test(test_sums_and_comparisons),
        cmocka_unit_test(test_what_is_no_number),
        cmocka_unit_test(test_what_serves_for_what),
        cmocka_unit_test(test_laws),
        cmocka_unit_test(test_sound_texts),
        cmocka_unit_test(test_widths_of_threads),
        cmocka_unit_test(test_other_options_of_threads),
        cmocka_unit_test(test_named_colours),
        cmocka_unit_test(test_guides_and_places),
        cmocka_unit_test(test_habits),
        cmocka_unit_test(test_units_where_none_are_said),
        cmocka_unit_test(test_threads_of_one_name),
        cmocka_unit_test(test_changed_threads_have_names_of_their_own),
        cmocka_unit_test(test_about),
    };
    return cmocka_run_group_tests_name("meaning", tests, NULL, NULL);
}
