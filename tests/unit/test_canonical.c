/* What makes two files the same pattern, and the file that holds all it uses. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"

#include <stdlib.h>
#include <string.h>

typedef struct Used {
    const char *path, *text;
} Used;

#define THREADS "thread navy { turns: 67 per cm }\nthread mist { turns: 66 per cm }\n"
#define TUBE "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
#define ROD "rod \"A\" on tube { at 20 cm { band 40 turns of navy  band 40 turns of mist } }\n"
static const char plain[] = "edition 1\n" THREADS TUBE ROD;

/* Compiled with these files at hand, up to one without a path. */
static Compilation *compiled(const char *text, const Used *used)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    assert_int_equal(turnlay_give(made, "tried.lay", text, strlen(text)), TURNLAY_DONE);
    TurnlayWant want;
    while ((want = turnlay_want(made)).path) {
        const Used *one = used;
        while (one && one->path && strcmp(one->path, want.path) != 0)
            one++;
        if (!one || !one->path)
            fail_msg("`%s` is wanted", want.path);
        assert_int_equal(turnlay_give(made, one->path, one->text, strlen(one->text)), TURNLAY_DONE);
    }
    if (turnlay_finish(made) != TURNLAY_DONE)
        fail_msg("%s\n%s", made->findings.list.items[0].message, text);
    return made;
}

static uint64_t hash_of(const char *text, const Used *used)
{
    Compilation *made = compiled(text, used);
    uint64_t hash = made->job->pattern_hash;
    turnlay_free(made);
    assert_true(hash != 0);
    return hash;
}

/* Comments, blanks and line ends are of no account. */
static void test_the_same_pattern(void **state)
{
    (void)state;
    static const char *const same[] = {
        "// a comment\nedition 1\n" THREADS TUBE ROD,
        "edition 1\n/// what it is\n" THREADS TUBE ROD "// the end",
        "edition 1\r\n" THREADS "\r\n\r\n" TUBE ROD,
        "edition   1\n\n\n" THREADS "\t" TUBE ROD "\n\n",
        "\xef\xbb\xbf"
        "edition 1\n" THREADS TUBE ROD,
        "edition 1\n" THREADS "blank tube { at 0 mm: 12 mm\n\n at 100 cm: 4 mm }" ROD,
    };
    for (unsigned i = 0; i < sizeof same / sizeof *same; i++)
        assert_true(hash_of(same[i], NULL) == hash_of(plain, NULL));
}

/* Every word counts, and where it stands. */
static void test_other_patterns(void **state)
{
    (void)state;
    static const char *const others[] = {
        plain,
        THREADS TUBE ROD,
        "edition 1\n" THREADS TUBE
        "rod \"B\" on tube { at 20 cm { band 40 turns of navy  band 40 turns of mist } }\n",
        "edition 1\n" THREADS TUBE
        "rod \"A\" on tube { at 20 cm { band 40 turns of mist  band 40 turns of navy } }\n",
        "edition 1\n" THREADS TUBE
        "rod \"A\" on tube { at 20 cm { band 41 turns of navy  band 40 turns of mist } }\n",
        "edition 1\n" THREADS TUBE "rod \"A\" on tube { at 20 cm { band 40 turns of navy } }\n",
        "edition 1\n" TUBE THREADS ROD,
        "edition 1\n" THREADS "let a = 1\n" TUBE ROD,
        "edition 1\n" THREADS "let ab = 1\n" TUBE ROD,
        "edition 1\n" THREADS "let a = 12\n" TUBE ROD,
        "edition 1\n" THREADS "let a = 1 2/1\n" TUBE ROD,
        "edition 1\n" THREADS TUBE ROD "let a = 1\n",
    };
    enum { COUNT = sizeof others / sizeof *others };
    uint64_t hashes[COUNT];
    for (int i = 0; i < COUNT; i++) {
        hashes[i] = hash_of(others[i], NULL);
        for (int j = 0; j < i; j++)
            if (hashes[i] == hashes[j])
                fail_msg("the same hash of\n%sand\n%s", others[i], others[j]);
    }
}

#define SIZES                                                                                                     \
    {                                                                                                             \
        "std/sizes", "edition 1\nsize A { diameter: 0.15 mm }\n"                                                  \
    }
static const Used shop[] = {{"shop", "edition 1\n" THREADS}, {NULL, NULL}};
static const Used remarked[] = {{"shop", "// our threads\nedition 1\n" THREADS "// all"}, {NULL, NULL}};
static const Used other_shop[] = {
    {"shop", "edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 65 per cm }\n"}, {NULL, NULL}};

/* What a used file says counts, its comments do not, nor whether it is held in braces. */
static void test_used_files_count(void **state)
{
    (void)state;
    static const char uses[] = "edition 1\nuse \"shop\"\n" TUBE ROD,
                      holds[] = "edition 1\nuse \"shop\" {\nedition 1\n" THREADS "}\n" TUBE ROD,
                      named[] = "edition 1\nuse \"shop\" as shop\n" TUBE
                                "rod \"A\" on tube { at 20 cm { band 40 turns of shop.navy } }\n",
                      elsewhere[] = "edition 1\nuse \"store\"\n" TUBE ROD;
    static const Used store[] = {{"store", "edition 1\n" THREADS}, {NULL, NULL}};
    uint64_t hash = hash_of(uses, shop);
    assert_true(hash_of(uses, remarked) == hash);
    assert_true(hash_of(holds, NULL) == hash);
    assert_true(hash_of(uses, other_shop) != hash);
    assert_true(hash_of(elsewhere, store) != hash);
    assert_true(hash_of(named, shop) != hash);
    assert_true(hash_of(plain, NULL) != hash);
}

/* So many brackets in braces as are read with care, though none is too deep for the language: what is used there
 * is the same, read so in braces or quickly as a file of its own. */
#define TEN(text) text text text text text text text text text text
#define DEEP                                                                                                      \
    "pattern deep(t: thread) { " TEN("repeat 1 { ") TEN("repeat 1 { ") TEN("repeat 1 { ") "band " TEN("(")        \
        TEN("(") TEN("(") TEN("(") "3" TEN(")") TEN(")") TEN(")") TEN(")") " turns of t" TEN(" }") TEN(" }")      \
            TEN(" }") " }\n"

static void test_read_quickly_or_with_care(void **state)
{
    (void)state;
    static const char uses[] = "edition 1\nuse \"shop\"\n" TUBE ROD DEEP,
                      holds[] = "edition 1\nuse \"shop\" {\nedition 1\n" THREADS "}\n" TUBE ROD DEEP,
                      longer[] = "edition 1\nuse \"shop\" {\nedition 1\n" THREADS "let a = 1 }\n" TUBE ROD DEEP;
    assert_true(hash_of(holds, NULL) == hash_of(uses, shop));
    assert_true(hash_of(longer, NULL) != hash_of(uses, shop));
}

/* Files that use others, under names of their own, twice, without a line end, in braces, and the sizes that nobody
 * names. */
static const struct {
    const char *text;
    Used used[4];
} gathering[] = {
    {plain, {{NULL, NULL}}},
    {"edition 1\nuse \"shop\"\n" TUBE ROD, {{"shop", "edition 1\n" THREADS}}},
    {"edition 1\nuse \"shop\"\n" TUBE ROD, {{"shop", "edition 1\n" THREADS "// no line end"}}},
    {"edition 1\nuse \"shop\"\n" TUBE ROD, {{"shop", "edition 1 " THREADS "let a = 1"}}},
    {"edition 1\nuse \"shop\" as shop\n" TUBE "rod \"A\" on tube { at 20 cm { band 40 turns of shop.navy } }",
     {{"shop", THREADS}}},
    {"edition 1\nuse \"shop\"\nuse \"trims\"\n" TUBE "rod \"A\" on tube { at 20 cm { trim(navy) } }\n",
     {{"shop", "edition 1\n" THREADS},
      {"trims", "edition 1\nuse \"widths\"\npattern trim(t: thread) { band wide of t }\n"},
      {"widths", "edition 1\nlet wide = 9 mm\n"}}},
    {"edition 1\nuse \"shop\"\nuse \"again\"\n" TUBE ROD,
     {{"shop", "edition 1\n" THREADS}, {"again", "edition 1\nuse \"shop\"\nlet a = 1\n"}}},
    {"edition 1\nuse \"shop\" {\nedition 1\nuse \"deep\" as deep\n" THREADS "}\nuse \"deep\" as deep\n" TUBE ROD,
     {{"deep", "edition 1\nlet a = 1\n"}}},
    {"edition 1\nthread navy { size: A }\nthread mist { size: A }\n" TUBE ROD, {SIZES}},
    {"thread navy { size: A }\nthread mist { size: A }\n" TUBE ROD, {SIZES}},
    {"edition 1\nuse \"shop\" as shop\n" THREADS TUBE
     "rod \"A\" on tube { at 20 cm { band 40 turns of navy  band 40 turns of shop.navy } }",
     {{"shop", THREADS}}},
    {"edition 1\nuse \"shop\"\n" TUBE ROD,
     {{"shop", "edition 1\nthread navy { size: A }\nthread mist { size: A }\n"}, SIZES}},
    {"edition 1\nuse \"std/sizes\"\nthread navy { size: A }\nthread mist { size: A }\n" TUBE ROD, {SIZES}},
    /* The file's own first length counts, wherever the gathered file puts those of used files. */
    {"edition 1\nuse \"shop\"\nthread mist { diameter: 0.006 in }\n" TUBE ROD,
     {{"shop", "thread navy { diameter: 0.15 mm }"}}},
    {"edition 1\nuse \"shop\" { let a = 1 mm use \"deep\" { let b = 2 cm } }\n" THREADS "let c = 4 in\n" TUBE ROD,
     {{NULL, NULL}}},
    {"edition 1\nthread navy { size: A }\nthread mist { diameter: 0.006 in }\n" TUBE ROD, {SIZES}},
};

/* The gathered file is the same pattern, needs no other file, needs the same thread in the same units and gathers
 * to itself.
 */
static void test_gathered(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof gathering / sizeof *gathering; i++) {
        Compilation *made = compiled(gathering[i].text, gathering[i].used);
        TurnlayText gathered, again, need, gathered_need;
        assert_int_equal(turnlay_write_gathered(made, &gathered), TURNLAY_DONE);
        Compilation *alone = compiled(gathered.bytes, NULL);
        if (alone->job->pattern_hash != made->job->pattern_hash)
            fail_msg("another pattern:\n%s", gathered.bytes);
        assert_int_equal(turnlay_write_gathered(alone, &again), TURNLAY_DONE);
        assert_string_equal(again.bytes, gathered.bytes);
        assert_int_equal(turnlay_write_need(made, TURNLAY_TEXT, &need), TURNLAY_DONE);
        assert_int_equal(turnlay_write_need(alone, TURNLAY_TEXT, &gathered_need), TURNLAY_DONE);
        assert_string_equal(gathered_need.bytes, need.bytes);
        TurnlayText *texts[] = {&gathered, &again, &need, &gathered_need};
        for (int t = 0; t < 4; t++)
            turnlay_text_free(texts[t]);
        turnlay_free(alone);
        turnlay_free(made);
    }
}

/* Nothing of the file is lost or moved: each used text stands in braces behind its `use`, all else as it was. */
static void test_a_gathered_file_is_the_file(void **state)
{
    (void)state;
    static const Used used[] = {{"shop", "edition 1\n" THREADS "// end"}, {NULL, NULL}};
    Compilation *made = compiled("// first\nedition 1\nuse \"shop\" // ours\n" TUBE ROD "// last", used);
    TurnlayText gathered;
    assert_int_equal(turnlay_write_gathered(made, &gathered), TURNLAY_DONE);
    assert_string_equal(gathered.bytes, "// first\nedition 1\nuse \"shop\" {\nedition 1\n" THREADS
                                        "// end\n} // ours\n" TUBE ROD "// last");
    turnlay_text_free(&gathered);
    turnlay_free(made);
}

/* Also where a text held in braces uses other files. */
static void test_gathered_twice(void **state)
{
    (void)state;
    static const Used used[] = {{"deep", "edition 1\nlet a = 1\n"}, {NULL, NULL}};
    Compilation *made = compiled("edition 1\nuse \"shop\" { // held\nedition 1\nuse \"deep\" as deep\n" THREADS
                                 "// all\n}\n" TUBE ROD,
                                 used);
    TurnlayText gathered;
    assert_int_equal(turnlay_write_gathered(made, &gathered), TURNLAY_DONE);
    assert_string_equal(gathered.bytes,
                        "edition 1\nuse \"shop\" { // held\nedition 1\nuse \"deep\" as deep {\nedition 1\n"
                        "let a = 1\n}\n" THREADS "// all\n}\n" TUBE ROD);
    turnlay_text_free(&gathered);
    turnlay_free(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_same_pattern), cmocka_unit_test(test_other_patterns),
        cmocka_unit_test(test_used_files_count), cmocka_unit_test(test_read_quickly_or_with_care),
        cmocka_unit_test(test_gathered),         cmocka_unit_test(test_a_gathered_file_is_the_file),
        cmocka_unit_test(test_gathered_twice),
    };
    return cmocka_run_group_tests_name("canonical form", tests, NULL, NULL);
}
