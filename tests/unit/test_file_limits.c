/* The limits of the reference's last table, in texts made for them: what is at the limit is sound, one more is
 * told by its finding, and nothing else is said. */
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
    "edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"                             \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
#define ROD "rod \"A\" on tube { at 20 cm length: 60 mm { band 40 turns of navy } }\n"

/* A text that grows. */
typedef struct Growing {
    char *bytes;
    size_t length, room;
} Growing;

static void put(Growing *text, const char *more)
{
    size_t length = strlen(more);
    if (text->length + length + 1 > text->room) {
        text->room = (text->length + length + 1) * 2;
        text->bytes = realloc(text->bytes, text->room);
        assert_non_null(text->bytes);
    }
    memcpy(text->bytes + text->length, more, length + 1);
    text->length += length;
}

static void put_times(Growing *text, const char *more, int times)
{
    for (int i = 0; i < times; i++)
        put(text, more);
}

static void put_numbered(Growing *text, const char *format, int from, int to)
{
    for (int i = from; i < to; i++) {
        char part[200];
        snprintf(part, sizeof part, format, i, i + 1, i + 2);
        put(text, part);
    }
}

static void braces(Growing *text, int depth)
{
    put(text, HEAD "rod \"A\" on tube { at 20 cm length: 60 mm { "); /* two are open here */
    put_times(text, "if yes { ", depth - 2);
    put(text, "band 40 turns of navy ");
    put_times(text, "} ", depth);
}

static void brackets(Growing *text, int depth)
{
    put(text, HEAD "let deep = ");
    put_times(text, "(", depth);
    put(text, "1");
    put_times(text, ")", depth);
    put(text, "\n" ROD);
}

static void layers(Growing *text, int count)
{
    put(text, HEAD "bench { ridge: 100 }\nrod \"A\" on tube { at 20 cm length: 60 mm { ");
    put_times(text, "over { band 40 turns of navy } ", count);
    put(text, "} }\n");
}

static void parameters(Growing *text, int count)
{
    put(text, HEAD "pattern many(");
    put_numbered(text, "p%d: count = 1, ", 0, count);
    put(text, ") { band 40 turns of navy }\nrod \"A\" on tube { at 20 cm length: 60 mm { many() } }\n");
}

static void colours(Growing *text, int count)
{
    put(text, HEAD "thread shaded { turns: 67 per cm, period: 1 m, colours: [");
    put_times(text, "#22346b, ", count);
    put(text, "] }\n" ROD);
}

/* Each calls the next, the last one winds: as many patterns as are called within one another. */
static void calls(Growing *text, int depth)
{
    put(text, HEAD);
    put_numbered(text, "pattern p%d() { p%d() }\n", 1, depth);
    char last[200];
    snprintf(last, sizeof last, "pattern p%d() { band 40 turns of navy }\n", depth);
    put(text, last);
    put(text, "rod \"A\" on tube { at 20 cm length: 60 mm { p1() } }\n");
}

static void terms(Growing *text, int depth)
{
    put(text, HEAD "let long = 1");
    put_times(text, " + 1", depth - 1);
    put(text, "\n" ROD);
}

/* A loop without turns: the statement's own steps, and the loop's. */
static void steps(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "for i in 1 to %d { }  band 40 turns of navy } }\n", count);
    put(text, HEAD "rod \"A\" on tube { at 20 cm length: 60 mm { ");
    put(text, part);
}

static void bands(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "repeat %d { band 20 turns of navy } } }\n", count);
    put(text, HEAD "rod \"A\" on tube { at 20 cm { ");
    put(text, part);
}

static void mirrored(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "symmetric { repeat %d { band 1 mm of navy } } } }\n", count);
    put(text, HEAD "rod \"A\" on tube { at 20 cm { ");
    put(text, part);
}

static void strands(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "diamond crossings: 3 ends: 12 turns of navy { strand %d of mist } } }\n", count);
    put(text, HEAD "rod \"A\" on tube { at 20 cm length: 60 mm { ");
    put(text, part);
}

static void two_lines(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part,
             "diamond crossings: 3 ends: 12 turns of navy { strand %d of mist strand %d of navy } } }\n", count,
             count);
    put(text, HEAD "rod \"A\" on tube { at 20 cm length: 60 mm { ");
    put(text, part);
}

static void digits(Growing *text, int count)
{
    put(text, HEAD "let many = 3.");
    put_times(text, "1", count - 1);
    put(text, "\n" ROD);
}

/* Files that are used, and the one that uses them. */
static void files(Growing *text, int count)
{
    put(text, "edition 1\n");
    put_numbered(text, "use \"file%d\" as file%d\n", 1, count);
    put(text, &HEAD[strlen("edition 1\n")]);
    put(text, ROD);
}

/* What one more than the limit is told by. at_limit: false where that is more than a test has time or memory for,
 * or is no rod. */
typedef struct Limit {
    void (*put)(Growing *, int);
    int limit, beyond;
    const char *code;
    bool at_limit;
    const char *message, *mend;
} Limit;

static const Limit limits[] = {
    {braces, 64, 65, "T902", true, "this is nested deeper than 64",
     "put the inner part into a pattern or a `let` of its own"},
    {brackets, 64, 65, "T902", true, "this is nested deeper than 64",
     "put the inner part into a pattern or a `let` of its own"},
    {layers, 64, 65, "T904", true, "this place has 65 layers, and at most 64 can lie on one another",
     "part it into several places"},
    {parameters, 64, 65, "T904", true, "this pattern has 65 parameters, more than 64",
     "part it into several patterns"},
    {colours, 64, 65, "T203", true, "a thread has at most 64 colours; these are 65",
     "leave out those that nobody would see"},
    {calls, 64, 65, "T902", true, "patterns call one another deeper than 64", "join some of them"},
    {terms, 1000, 1001, "T902", true, "this value has more than 1000 parts one within the other",
     "give a part of it a name with `let`"},
    {steps, 4999000, 5000000, "T904", true, "this file asks for more than 5,000,000 steps of reckoning",
     "let its loops and repeats run less often"},
    {bands, 1048576, 1048577, "T904", false, "one layer holds more than 1048576 bands and fades",
     "repeat less often"},
    {mirrored, 524288, 524289, "T904", false, "one layer holds more than 1048576 bands and fades",
     "repeat less often"},
    {strands, 20000, 20001, "T203", false, "this count is too large", "write 20000"},
    {two_lines, 10000, 10001, "T904", false, "this bundle has more than 20000 strands",
     "give it fewer, of thicker thread"},
    {digits, 15, 16, "T005", true, "this number cannot be read",
     "write at most 15 digits; no bench measures finer: `3.11111111111111`"},
    {files, 256, 257, "T905", true, "more than 256 files are used", "put what belongs together into one file"},
};

static Compilation *compiled(void (*make)(Growing *, int), int count)
{
    Growing text = {0};
    make(&text, count);
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    assert_int_equal(turnlay_give(made, "tried.lay", text.bytes, text.length), TURNLAY_DONE);
    TurnlayWant want;
    while ((want = turnlay_want(made)).path) {
        char name[300];
        snprintf(name, sizeof name, "%s.lay", want.path);
        assert_int_equal(turnlay_give(made, name, "edition 1\n", 10), TURNLAY_DONE);
    }
    assert_int_not_equal(turnlay_finish(made), TURNLAY_OUT_OF_MEMORY);
    free(text.bytes);
    return made;
}

static void test_each_limit(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof limits / sizeof *limits; i++) {
        const Limit *limit = &limits[i];
        if (limit->at_limit) {
            Compilation *sound = compiled(limit->put, limit->limit);
            if (sound->findings.errors)
                fail_msg("%d, of %s: %s", limit->limit, limit->code, sound->findings.list.items[0].message);
            turnlay_free(sound);
        }
        Compilation *beyond = compiled(limit->put, limit->beyond);
        if (beyond->findings.errors != 1)
            fail_msg("beyond %d, of %s: %lu errors", limit->limit, limit->code,
                     (unsigned long)beyond->findings.errors);
        for (uint32_t j = 0; j < beyond->findings.list.count; j++) {
            const Finding *finding = &beyond->findings.list.items[j];
            if (finding->severity != SEVERITY_ERROR)
                continue;
            assert_string_equal(finding_code_text(finding->code), limit->code);
            assert_string_equal(finding->message, limit->message);
            assert_string_equal(finding->mend, limit->mend);
        }
        turnlay_free(beyond);
    }
}

/* A file that many use is one file. */
static void test_files_used_by_many(void **state)
{
    (void)state;
    Growing text = {0};
    put(&text, "edition 1\n");
    put_numbered(&text, "use \"file%d\" as file%d\n", 0, 200);
    put(&text, &HEAD[strlen("edition 1\n")]);
    put(&text, ROD);
    static const char uses[] = "edition 1\nuse \"common\"\nuse \"more\"\nuse \"most\"\n";
    Compilation *made = compilation_new(0);
    assert_int_equal(turnlay_give(made, "tried.lay", text.bytes, text.length), TURNLAY_DONE);
    TurnlayWant want;
    while ((want = turnlay_want(made)).path) {
        bool shared = strncmp(want.path, "file", 4) != 0;
        char name[300];
        snprintf(name, sizeof name, "%s.lay", want.path);
        turnlay_give(made, name, shared ? "edition 1\n" : uses, shared ? 10 : strlen(uses));
    }
    assert_int_equal(turnlay_finish(made), TURNLAY_DONE);
    assert_int_equal(made->findings.errors, 0);
    assert_int_equal(made->sources.list.count, 204);
    turnlay_free(made);
    free(text.bytes);
}

/* As many braces as may be open, and none closed: the mend closes them all. */
static void test_all_braces_left_open(void **state)
{
    (void)state;
    Growing text = {0};
    braces(&text, 64);
    text.length -= 2 * 64;
    text.bytes[text.length] = 0;
    Compilation *made = compilation_new(0);
    assert_int_equal(turnlay_give(made, "tried.lay", text.bytes, text.length), TURNLAY_DONE);
    turnlay_finish(made);
    assert_int_equal(made->findings.errors, 1);
    const Finding *finding = &made->findings.list.items[0];
    assert_string_equal(finding_code_text(finding->code), "T008");
    assert_true(finding->has_edit);
    assert_int_equal(finding->edit.span.start, text.length);
    assert_int_equal(strspn(finding->edit.text, "}"), 64);
    put(&text, finding->edit.text);
    turnlay_free(made);
    Compilation *mended = compilation_new(0);
    assert_int_equal(turnlay_give(mended, "tried.lay", text.bytes, text.length), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(mended), TURNLAY_DONE);
    turnlay_free(mended);
    free(text.bytes);
}

/* No more than 100 findings are kept, and all are counted. */
static void test_findings_beyond_those_kept(void **state)
{
    (void)state;
    static const struct {
        const char *before, *each, *after;
    } cases[] = {
        {HEAD ROD, "}\n", ""}, {HEAD "guide ring { ", "{\n", "foot: 14 mm }\n" ROD}, {HEAD, "let a = b\n", ROD}};
    for (int i = 0; i < 3; i++) {
        Growing text = {0};
        put(&text, cases[i].before);
        put_times(&text, cases[i].each, 150);
        put(&text, cases[i].after);
        Compilation *made = compilation_new(0);
        assert_int_equal(turnlay_give(made, "tried.lay", text.bytes, text.length), TURNLAY_DONE);
        assert_int_equal(turnlay_finish(made), TURNLAY_HAS_ERRORS);
        uint32_t errors =
            i < 2 ? 150 : 150 + 149; /* each `b` is unknown, and each `a` but the first is one too many */
        assert_int_equal(made->findings.errors, errors);
        assert_int_equal(made->findings.list.count, 100);
        assert_int_equal(made->findings.left_out, errors - 100);
        turnlay_free(made);
        free(text.bytes);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_each_limit), cmocka_unit_test(test_files_used_by_many),
        cmocka_unit_test(test_all_braces_left_open), cmocka_unit_test(test_findings_beyond_those_kept)};
    return cmocka_run_group_tests_name("limits of a file", tests, NULL, NULL);
}
