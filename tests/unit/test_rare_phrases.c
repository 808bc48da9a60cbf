/* What is written seldom: what is said of it, and what its edit makes of it. */
#include "meant.h"

typedef struct Rare {
    const char *written, *meant, *said;
} Rare;

static const char *first_message(const char *text)
{
    static char said[400];
    Compilation *made = compiled(text);
    snprintf(said, sizeof said, "%s", made->findings.list.items[0].message);
    turnlay_free(made);
    return said;
}

static void check_rare(const char *form, const Rare *cases, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        check(form, &(Slip){cases[i].written, cases[i].meant}, 1);
        char text[LONGEST_TEXT];
        write_text(text, form, cases[i].written);
        assert_string_equal(first_message(text), cases[i].said);
    }
}
#define CHECK_RARE(form, cases) check_rare(form, cases, sizeof(cases) / sizeof *(cases))

static void at_the_top(void **state)
{
    (void)state;
    static const Rare cases[] = {
        {"guide 16 { foot: 14 mm }", "guide guide_16 { foot: 14 mm }", "a name begins with a letter"},
        {"thread 5 { turns: 67 per cm }", "thread thread_5 { turns: 67 per cm }", "a name begins with a letter"},
        {"rod \"R\" on my tube {\n}", "rod \"R\" on my_tube {\n}", "a name is one word: join its words with _"},
        {"thread gold 0.2 mm", "thread gold { diameter: 0.2 mm }", "what belongs to it stands in braces: { }"},
        {"thread gold = 0.2 mm", "thread gold { diameter: 0.2 mm }", "what belongs to it stands in braces: { }"},
        {"ring16 { foot: 14 mm }", "guide ring16 { foot: 14 mm }", "a guide begins with `guide`"},
        {"rod \"R\" for the tube", "rod \"R\" on tube", "after `on` stands the blank's name"},
    };
    CHECK_RARE(THREADS BLANK GUIDE PATTERNS "@\n", cases);
}

static void among_stations(void **state)
{
    (void)state;
    static const Rare cases[] = {
        {"at 50 cm: 8 4 at 100", "at 50 cm: 8  at 100: 4", "the station comes first, then its diameter"},
        {"at 3 foot: 4 mm", "at 3 ft: 4 mm", "this unit is `ft`"},
        {"at 3 feet: 4 mm", "at 3 ft: 4 mm", "this unit is `ft`"},
    };
    CHECK_RARE(THREADS "blank tube { at 0 mm: 12 mm  @ }\n", cases);
}

static void among_options(void **state)
{
    (void)state;
    static const Rare cases[] = {
        {"turns: 67 1 cm", "turns: 67 per 1 cm", "turns for a length are `per` it"},
        {"turns: : 67 per cm", "turns: 67 per cm", "an option carries just a colon"},
        {"turns: = 67 per cm", "turns: 67 per cm", "an option carries just a colon"},
    };
    CHECK_RARE(THREADS "thread gold { @ }\n", cases);
    static const Slip slips[] = {{"tape_measure: 1 mm", "rule: 1 mm"}};
    CHECK("edition 1\nbench { @ }\n", slips);
}

static void on_a_rod(void **state)
{
    (void)state;
    static const Rare cases[] = {
        {"check c at 24 cm", "part c at 24 cm", "a part begins with `part`"},
        {"grip cork at 0 cm", "part cork at 0 cm", "a part begins with `part`"},
        {"cork at 0 cm length: 24 cm { diameter: 26 mm }", "part cork at 0 cm length: 24 cm { diameter: 26 mm }",
         "a part begins with `part`"},
        {"series guides: 3 ring { }", "series guides: [ring, ring, ring] { }", "several guides are a list"},
        {"series guides: three of ring { }", "series guides: [ring, ring, ring] { }", "several guides are a list"},
        {"series guides: 4 x ring { }", "series guides: [ring, ring, ring, ring] { }",
         "several guides are a list"},
        {"series guides: five ring { }", "series guides: [ring, ring, ring, ring, ring] { }",
         "several guides are a list"},
        {"series guides: 6 times ring { }", "series guides: [ring, ring, ring, ring, ring, ring] { }",
         "several guides are a list"},
        {"series guides: seven of ring { }", "series guides: [ring, ring, ring, ring, ring, ring, ring] { }",
         "several guides are a list"},
    };
    CHECK_RARE(THREADS BLANK GUIDE "rod \"R\" on tube {\n    @\n}\n", cases);
}

static void in_a_layer(void **state)
{
    (void)state;
    static const Rare cases[] = {
        {"wrap foot with navy", "foot(navy)", "a pattern is called by its name alone"},
        {"navy band 9 turns", "band 9 turns of navy", "the word comes first, then how much and the thread"},
        {"navy inlay fill", "inlay fill of navy", "the word comes first, then how much and the thread"},
        {"band 9 turns thread navy", "band 9 turns of navy", "a thread follows `of`"},
        {"band 9 colour navy", "band 9 of navy", "a thread follows `of`"},
        {"fade navy", "fade to navy", "a fade into a thread is `fade to`"},
        {"gap 2 mm for label", "gap 2 mm", "a gap is left bare, whatever it is for"},
        {"band 9 turns of [, navy, dark_blue]", "band 9 turns of [ navy, dark_blue]", "there is a comma too many"},
        {"foot(, navy)", "foot( navy)", "there is a comma too many"},
        {"foot\n", "foot()\n", "a pattern is called with parentheses"},
        /* Of what is long the beginning is quoted, in whole letters. */
        {"band 9 turns of navy \"öööööööööööööööööööööö\"", "band 9 turns of navy",
         "`\"ööööööööööööööööööö...` does not fit here: after `navy` comes a statement, an option or a closing brace"},
        {"band 9 turns of navy \"oöööööööööööööööööööööö\"", "band 9 turns of navy",
         "`\"oööööööööööööööööööö...` does not fit here: after `navy` comes a statement, an option or a closing brace"},
    };
    CHECK_RARE(LAYER, cases);
}

static void in_a_pattern(void **state)
{
    (void)state;
    static const Rare cases[] = {
        {"wide of navy", "band wide of navy", "turns of a thread are a `band`"},
        {"section 9 turns of navy", "band 9 turns of navy", "turns of a thread are a `band`"},
    };
    CHECK_RARE(THREADS "pattern p(wide: turns) {\n    @\n}\n", cases);
}

/* A parameter without its kind has that of the value that it is left out for. */
static void kinds_of_parameters(void **state)
{
    (void)state;
    static const Slip slips[] = {
        {"it = \"x\"", "it: text = \"x\""},      {"it = #112233", "it: colour = #112233"},
        {"it = yes", "it: truth = yes"},         {"it = no", "it: truth = no"},
        {"it = [navy]", "it: threads = [navy]"}, {"it = navy", "it: thread = navy"},
        {"it = 5 mm", "it: length = 5 mm"},      {"it = 3 turns", "it: turns = 3 turns"},
        {"it = 30 deg", "it: angle = 30 deg"},   {"it = 67 per cm", "it: rate = 67 per cm"},
        {"it = 50 %", "it: ratio = 50 %"},       {"it = 3", "it: count = 3"},
    };
    CHECK(THREADS "pattern p(@) { band 9 turns of navy }\n", slips);
}

/* Every number that a builder writes in letters, in words of English. */
static void numbers_in_letters(void **state)
{
    (void)state;
    static const char *const ones[] = {"one",     "two",       "three",    "four",     "five",
                                       "six",     "seven",     "eight",    "nine",     "ten",
                                       "eleven",  "twelve",    "thirteen", "fourteen", "fifteen",
                                       "sixteen", "seventeen", "eighteen", "nineteen", "twenty"};
    static const char *const tens[] = {"ten",   "twenty",  "thirty", "forty", "fifty",
                                       "sixty", "seventy", "eighty", "ninety"};
    char written[80], meant[80];
    for (unsigned i = 0; i < 20 + 9; i++) {
        snprintf(written, sizeof written, "band %s turns of navy", i < 20 ? ones[i] : tens[i - 20]);
        snprintf(meant, sizeof meant, "band %u turns of navy", i < 20 ? i + 1 : (i - 19) * 10);
        check(LAYER, &(Slip){written, meant}, 1);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(at_the_top),         cmocka_unit_test(among_stations),
        cmocka_unit_test(among_options),      cmocka_unit_test(on_a_rod),
        cmocka_unit_test(in_a_layer),         cmocka_unit_test(in_a_pattern),
        cmocka_unit_test(numbers_in_letters), cmocka_unit_test(kinds_of_parameters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
