/* Words of the language that are known by where they stand: anywhere else they are names. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"

#include <stdio.h>
#include <string.h>

static const char *const words[] = {"series", "part", "like"};

/* With `@` for the word. Whatever begins a line or follows a brace here could begin a statement. */
static const char *const texts[] = {
    "thread @ { turns: 67 per cm }\nrod \"A\" on tube { at 20 cm { band 40 turns of @ } }\n",
    "thread @\n{ turns: 67 per cm }\nrod \"A\" on tube { at 20 cm { band 40 turns\nof\n@ } }\n",
    "blank @ { at 0 mm: 12 mm  at 100 cm: 4 mm }\nrod \"A\" on @ { at 20 cm { band 40 turns of navy } }\n",
    "guide @ { foot: 14 mm }\nrod \"A\" on tube { at 20 cm guide: @ { band fill of navy } }\n",
    "guide @ { foot: 14 mm }\nrod \"A\" on tube { at 20 cm: @ { band fill of navy } }\n",
    "size @ { diameter: 0.15 mm }\nthread one { size: @ }\n"
    "rod \"A\" on tube { at 20 cm { band 40 turns of one } }\n",
    "let @ = 40 turns\nlet other = @\nlet more = [@, other]\n"
    "rod \"A\" on tube { at 20 cm { band @ of navy  band other of navy } }\n",
    "let @ = 20 cm\nrod \"A\" on tube { at @ { band 40 turns of navy } at @ + @ length: @ { band fill of navy } }\n",
    "pattern @() { band 40 turns of navy }\nrod \"A\" on tube { at 20 cm { @() @ ( )\n@()\n@ ()\n@\n() } }\n",
    "pattern @(wide: turns) { band wide of navy }\nrod \"A\" on tube { at 20 cm { @(40 turns)\n@(wide: 40 turns) } }\n",
    "pattern one(@: thread) { band 40 turns of @ }\nrod \"A\" on tube { at 20 cm { one(navy) one(@: navy) } }\n",
    "pattern one(@: count = 3) { repeat @ { band 40 turns of navy } }\nrod \"A\" on tube { at 20 cm { one(@ : 3) } }\n",
    "pattern one(@: truth) {\nif @ { band 40 turns of navy } else if not @ { gap 2 mm }\nrequire @ or yes, \"why\"\n"
    "if yes and @ { band 40 turns of navy } }\nrod \"A\" on tube { at 20 cm { one(yes) } }\n",
    "rod \"A\" on tube { at 20 cm { for @ in [navy, navy] { band 40 turns of @ } } }\n",
    "rod \"A\" on tube { at 20 cm { for @ in 1 to 3 { band 40 turns of navy }\nlet @ = 3\nlet one = @\n"
    "for two in @ to @ { band 20 turns * @ of navy }\nband @ * 20 turns\nof navy } }\n",
    "rod \"A\" on tube { at 20 cm { let @ = [navy, navy]\nfor one in @ { band 40 turns of one }\n"
    "band 40 turns of @\nfade 100 turns of @\nlet two = first(\n@)\nband 40 turns of two } }\n",
    "use \"held\" as @ { thread one { turns: 67 per cm } pattern two() { band 40 turns of one } }\n"
    "rod \"A\" on tube { at 20 cm { band 40 turns of @.one\n@.two()\n@ . two()  @.two() } }\n",
    "use \"held\" as one { thread @ { turns: 67 per cm } pattern two() { band 40 turns of @ } }\n"
    "rod \"A\" on tube { at 20 cm { band 40 turns of one.@\none.two() } }\n",
    "use \"held\" as one { pattern @() { band 40 turns of navy2 } thread navy2 { turns: 67 per cm } }\n"
    "rod \"A\" on tube { at 20 cm { one.@() } }\n",
    "let @ = 3 mm\nblank one { at 0 mm: 12 mm  at @: 11 mm  at @ + @: 10 mm  at 2 * @ + @ : 10 mm  at 90 cm: 9 mm }\n"
    "rod \"A\" on one { at 20 cm { band 40 turns of navy } }\n",
    "rod \"A\" on tube { at 20 cm { let @ = 40 turns\n// @ { of a comment\nband @ of navy } }\n",
};

/* The text with the word in its places, and something behind it. */
static const char *with_word(const char *text, const char *word, const char *behind)
{
    static char made[4000];
    char *out = made
                + sprintf(made, "edition 1\nthread navy { turns: 67 per cm }\n"
                                "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n");
    for (const char *at = text; *at; at++)
        if (*at == '@')
            out += sprintf(out, "%s", word);
        else
            *out++ = *at;
    strcpy(out, behind);
    return made;
}

/* The findings of error level; those of the text are printed where there are others than expected. */
static unsigned errors_of(const char *text, const char *only)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    assert_int_equal(turnlay_give(made, "tried.lay", text, strlen(text)), TURNLAY_DONE);
    if (turnlay_want(made).path) /* the sizes of the library */
        assert_int_equal(turnlay_give(made, "sizes.lay", "edition 1\n", strlen("edition 1\n")), TURNLAY_DONE);
    turnlay_finish(made);
    unsigned errors = 0;
    for (uint32_t i = 0; i < made->findings.list.count; i++) {
        const Finding *finding = &made->findings.list.items[i];
        if (finding->severity != SEVERITY_ERROR)
            continue;
        errors++;
        if (!only || !strstr(finding->message, only))
            fail_msg("%s\n%s", finding->message, text);
    }
    turnlay_free(made);
    return errors;
}

static void test_words_are_names(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof texts / sizeof *texts; i++)
        for (unsigned j = 0; j < sizeof words / sizeof *words; j++)
            assert_int_equal(errors_of(with_word(texts[i], words[j], ""), NULL), 0);
}

/* A text with a fault is read another way: there is that fault, and no other. */
static void test_words_are_names_beside_a_fault(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof texts / sizeof *texts; i++)
        for (unsigned j = 0; j < sizeof words / sizeof *words; j++)
            assert_int_equal(errors_of(with_word(texts[i], words[j], "pattern faulty() { ] }\n"), "`]`"), 1);
}

/* `thread` begins a declaration, or is a kind; behind `prefer:` of the bench it is a value. */
static void test_thread_may_be_preferred(void **state)
{
    (void)state;
    static const char *const benches[] = {
        "bench { prefer: thread }\n",
        "bench { hand: max(1 m, 2 m), prefer: thread\nfree: 10 cm }\n",
        "bench { prefer\t: thread }\npattern one(prefer: thread) { band 40 turns of prefer }\n",
        "pattern one(a: count, prefer: thread) { repeat a { band 40 turns of prefer } }\nbench { prefer: time }\n"
        "thread other { turns: 60 per cm }\n",
    };
    for (unsigned i = 0; i < sizeof benches / sizeof *benches; i++) {
        assert_int_equal(errors_of(with_word(benches[i], "", ""), NULL), 0);
        assert_int_equal(errors_of(with_word(benches[i], "", "pattern faulty() { ] }\n"), "`]`"), 1);
    }
    assert_int_equal(errors_of(with_word("bench { prefer:\nthread }\n", "", ""), NULL), 0);
    assert_int_equal(errors_of(with_word("bench { drive: thread }\n", "", ""), "`drive` has to be"), 1);
    assert_int_equal(errors_of(with_word("bench { drive:\nthread }\n", "", ""), "`thread`"), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_words_are_names),
        cmocka_unit_test(test_words_are_names_beside_a_fault),
        cmocka_unit_test(test_thread_may_be_preferred),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
