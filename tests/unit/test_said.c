/* What findings say, of whole texts: the words of each, and whether an edit goes with it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"

#include <stdio.h>
#include <string.h>

enum { LONGEST_TEXT = 4000, ROW_WORDS = 4 };

/* `tried` stands for `@` of the form. `words` are found in the message, the label, what stands at related places,
 * or the mend; none of `unsaid` is. `edit`: its text; NULL for none. */
typedef struct Said {
    const char *form, *code, *tried;
    const char *words[ROW_WORDS], *unsaid[ROW_WORDS];
    const char *edit;
} Said;

#define THREADS                                                                                                   \
    "edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"                             \
    "thread foam { turns: 67 per cm }\nthread pine { turns: 67 per cm }\nthread teal { turns: 67 per cm }\nsize fine { diameter: 0.15 mm }\n"
#define BLANK "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
#define ROD "rod \"A\" on tube { at 20 cm { band 40 turns of navy } }\n"
static const char declared[] = THREADS BLANK "@\n" ROD;
static const char laid[] =
    THREADS BLANK "rod \"A\" on tube {\n    at 20 cm length: 60 mm {\n        @\n    }\n}\n";
static const char placed[] = THREADS BLANK "rod \"A\" on tube {\n    @\n}\n";
static const char whole[] = "@";

#define SLATE(options) "thread slate " options "\nrod \"B\" on tube { at 20 cm { band 300 turns of slate } }"

static const Said said[] = {
    /* the width of a thread that nobody measured is written with its doubt */
    {declared,
     "T503",
     SLATE("{ size: fine }"),
     {"nominal, not measured", "wind 20 close turns of slate, measure their width", "until then"},
     {"such as"},
     "turns: 66.667 per cm, uncertainty: 20 %"},
    {declared,
     "T503",
     SLATE("{ tex: 30, fibre: nylon }"),
     {"until then"},
     {"such as"},
     "turns: 45.707 per cm, uncertainty: 10 %"},
    {declared,
     "T503",
     SLATE("{ size: fine, uncertainty: 8 % }"),
     {"until then"},
     {"such as"},
     "turns: 66.667 per cm"},
    {declared,
     "T504",
     SLATE("{ size: fine }"),
     {"known to 20 % only", "wind 20 close turns, measure their width, and write its `turns:`"},
     {"tolerance: ", "too few"},
     NULL},
    {declared,
     "T504",
     SLATE("{ size: fine, uncertainty: 8 % }"),
     {"measure slate", "or stop and measure every 41 turns"},
     {"tolerance: "},
     "\nbench { measure: 41 turns }"},
    {declared,
     "T504",
     SLATE("{ turns: 66.667 per cm, uncertainty: 20 % }"),
     {"known to 20 % only", "write its `turns:` without `uncertainty:`"},
     {"tolerance: "},
     NULL},
    {declared, "T504", "bench { tolerance: 0.01 mm }", {"tolerance: 0.04 mm"}, {"too few"}, "0.04 mm"},
    /* turns are counted from 1 */
    {laid,
     "T311",
     "band 20 turns of navy { inlay 3 turns of mist at: 0 turns }",
     {"this inlay would begin 2 turns before its band of 20 turns"},
     {"turns 0", "turns -"},
     "2 turns"},
    {laid,
     "T311",
     "band 20 turns of navy { inlay 3 turns of mist at: 20 turns }",
     {"this inlay would end 2 turns behind its band of 20 turns"},
     {"turns 19 to"},
     "17 turns"},
    {laid,
     "T311",
     "band 20 turns of navy { inlay 3 turns of mist at: 1 turn }",
     {"this inlay would begin 1 turn before its band of 20 turns"},
     {"turns 0"},
     "2 turns"},
    {laid,
     "T311",
     "band 20 turns of navy { inlay 3 turns of mist at: 5 turns inlay 3 turns of foam at: 6 turns }",
     {"this inlay would take turns 6 to 8 of a band of 20 turns"},
     {0},
     "9 turns"},
    /* a word that begins nothing */
    {laid, "T007", "qwertz", {"unknown word `qwertz`"}, {"no word", "is no"}, NULL},
    {laid, "T007", "bnad 12 turns of navy", {"unknown word `bnad`", "write `band`"}, {"no word"}, "band"},
    /* crosswraps */
    {laid,
     "T603",
     "chevron crossings: 8 field: closed ends: 12 turns of navy { strand 4 of navy strand 4 of mist }",
     {"do not cover this closed field", "these are meant to close it"},
     {"these strands close it"},
     "42"},
    /* stations */
    {whole,
     "T209",
     THREADS "blank tube { at 0 mm: 12 mm }\n" ROD,
     {"at its other end", "such as `at 100 cm: 4 mm`"},
     {"`at 0 mm: 12 mm`"},
     " at 100 cm: 4 mm "},
    /* what lies under one turn */
    {laid,
     "T404",
     "band 2 turns of navy band 2 turns of mist band 2 turns of foam band 2 turns of pine band 20 turns of teal",
     {"threads lie under one turn", "one of the 6: the end of navy"},
     {0},
     "\nbench { ridge: 6 }"},
    /* stock */
    {declared,
     "T506",
     "thread slate { turns: 67 per cm, spool: 1 m }\nrod \"B\" on tube { at 20 cm { band 40 turns of slate } }",
     {"one piece of slate is longer than a spool holds", "get a spool that holds more and write `spool: 1.83 m`"},
     {"longer spool"},
     "1.83 m"},
    {declared,
     "T507",
     "thread slate { turns: 67 per cm, price: 4.50 }\nrod \"B\" on tube { at 20 cm { band 40 turns of slate } }",
     {"the price of a spool of slate", "`spool: "},
     {0},
     NULL},
    /* spools on their holders */
    {laid,
     "T408",
     "band 30 turns of [navy, mist, foam]",
     {"3 threads feed at once, and the bench has 2 spool holders", "`holders: 3`"},
     {": more", "navy:", "cannot be worked"},
     "\nbench { holders: 3 }"},
    /* calls */
    {declared,
     "T110",
     "pattern trim(main: thread, span: length = 9 mm) { band span of main }\nrod \"B\" on tube { at 20 cm { trim(navy, 8 mm, 6 turns) } }",
     {"take `6 turns` out", "is called as `trim(main, span)`"},
     {0},
     ""},
    {declared,
     "T110",
     "pattern trim(main: thread, span: length = 9 mm) { band span of main }\nrod \"B\" on tube { at 20 cm { trim(navy, spam: 8 mm) } }",
     {"write `span`"},
     {0},
     "span"},
    {laid, "T101", "band 40 turns of navy (light)", {"`navy` takes no parentheses"}, {"functions are"}, "navy"},
    /* a number alone is no ratio to a builder */
    {declared,
     "T104",
     "thread slate { turns: 67 per cm, price: 3 turns }",
     {"`price` has to be a number alone, not turns"},
     {"ratio"},
     "3"},
    {declared, "T104", "about { version: 1.0 }", {"has to be text in quotes, not a number"}, {"ratio"}, "\"1.0\""},
    /* places */
    {placed,
     "T304",
     "at 20 cm { band 100 turns of navy } at 21 cm { band 100 turns of navy }",
     {"this place overlaps the one at 20 cm from the butt by 4.93 mm"},
     {"this one"},
     "21.5 cm"},
    {laid,
     "T114",
     "band 20 turns of navy fade to mist steps: 3 over: 12 turns band 20 turns of mist",
     {"`steps` is given here"},
     {"this one"},
     ""},
    {laid,
     "T113",
     "band 20 turns of navy over { band 20 turns of mist }",
     {"beside `over`, `under` or a crosswrap all turns"},
     {"layers or statements"},
     "over { band 20 turns of navy }"},
    {laid,
     "T203",
     "band 20 turns of navy { inlay 2 turns of mist at: 3/2 }",
     {"between the start and the end of its band", "0 is the start of the band, 1 its end"},
     {"between 0 and 1"},
     "1/2"},
};

static Compilation *compiled(const char *text)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    turnlay_give(made, "tried.lay", text, strlen(text));
    while (turnlay_want(made).path)
        turnlay_give(made, "sizes.lay", "edition 1\n", strlen("edition 1\n"));
    assert_int_not_equal(turnlay_finish(made), TURNLAY_OUT_OF_MEMORY);
    return made;
}

static const Finding *finding_of(const Compilation *made, const char *code)
{
    for (uint32_t i = 0; i < made->findings.list.count; i++)
        if (strcmp(finding_code_text(made->findings.list.items[i].code), code) == 0)
            return &made->findings.list.items[i];
    return NULL;
}

static void all_words(const Finding *finding, char *words)
{
    int length = snprintf(words, LONGEST_TEXT, "%s\n%s\n%s\n", finding->message, finding->at.label, finding->mend);
    for (unsigned i = 0; i < finding->related_count; i++)
        length += snprintf(words + length, LONGEST_TEXT - (size_t)length, "%s\n", finding->related[i].label);
}

static bool check_said(const Said *row, const Finding *finding)
{
    char words[LONGEST_TEXT];
    bool good = true;
    all_words(finding, words);
    for (unsigned i = 0; i < ROW_WORDS; i++) {
        good &= !row->words[i] || strstr(words, row->words[i]);
        good &= !row->unsaid[i] || !strstr(words, row->unsaid[i]);
    }
    const char *edit = finding->has_edit ? finding->edit.text : NULL;
    good &= row->edit && edit ? strcmp(row->edit, edit) == 0 : !row->edit && !edit;
    if (!good)
        print_error("%s\n%sedit: %s\n\n", row->tried, words, edit ? edit : "none");
    return good;
}

static void test_findings_say(void **state)
{
    (void)state;
    unsigned wrong = 0;
    for (unsigned i = 0; i < sizeof said / sizeof *said; i++) {
        const Said *row = &said[i];
        const char *at = strchr(row->form, '@');
        char text[LONGEST_TEXT];
        snprintf(text, sizeof text, "%.*s%s%s", (int)(at - row->form), row->form, row->tried, at + 1);
        Compilation *made = compiled(text);
        const Finding *finding = finding_of(made, row->code);
        if (!finding)
            print_error("%s\nno %s\n\n", row->tried, row->code);
        wrong += !finding || !check_said(row, finding);
        turnlay_free(made);
    }
    assert_int_equal(wrong, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_findings_say)};
    return cmocka_run_group_tests_name("said", tests, NULL, NULL);
}
