/* The limits of the reference's last table, in texts made for them: what is at the limit is sound, one more is
 * told by its finding, and nothing else is said. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/limits.h"
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

static void places(Growing *text, int count)
{
    char rod[200];
    snprintf(rod, sizeof rod, "rod \"A\" on tube { for i in 1 to %d { at i * 0.005 mm { } } }\n", count);
    put(text, HEAD);
    put(text, rod);
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

/* A name where nobody looks any more, that has to be a number; and then one that is looked for. */
static void name_too_deep(Growing *text, int depth)
{
    put(text, HEAD "let long = nobody");
    put_times(text, " + 1", depth);
    put(text, "\nlet second = nvay\n" ROD);
}

/* A loop without turns: the statement's own steps, and the loop's. */
static void steps(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "for i in 1 to %d { }  band 40 turns of navy } }\n", count);
    put(text, HEAD "rod \"A\" on tube { at 20 cm length: 60 mm { ");
    put(text, part);
}

/* A list of 100 that is turned round so often: 100 steps for its elements each time, and 4 for the statements. */
static void turned_lists(Growing *text, int count)
{
    char part[200];
    put(text, HEAD "let list = [");
    put_times(text, "1, ", 99);
    snprintf(part, sizeof part,
             "1]\nrod \"A\" on tube { at 20 cm length: 60 mm { for i in 1 to %d { let l = reverse(list) } "
             "band 40 turns of navy } }\n",
             count);
    put(text, part);
}

/* A pattern of 100 locals that is called so often. */
static void locals(Growing *text, int count)
{
    char part[200];
    put(text, HEAD "pattern many() { if no {");
    put_numbered(text, " let l%d = 1", 0, 100);
    snprintf(part, sizeof part,
             " } }\nrod \"A\" on tube { at 20 cm length: 60 mm { repeat %d { many() } "
             "band 40 turns of navy } }\n",
             count);
    put(text, part);
}

/* A pattern without locals that is called so often. */
static void empty_calls(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part,
             "rod \"A\" on tube { at 20 cm length: 60 mm { repeat %d { none() } band 40 turns of navy } }\n",
             count);
    put(text, HEAD "pattern none() { }\n");
    put(text, part);
}

#define LONG_ROD                                                                                                  \
    "edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"                             \
    "blank tube { at 0 m: 12 mm  at 9000 m: 4 mm }\nrod \"A\" on tube { at 20 cm { "

/* Bands of 100 strands, each a step of reckoning; no bench has spools for so many. */
static void wide_bands(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "repeat %d { band 20 turns of all } } }\nlet all = [", count);
    put(text, LONG_ROD);
    put(text, part);
    put_times(text, "navy, ", 100);
    put(text, "]\n");
}

static void bands(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "repeat %d { band 20 turns of navy } } }\n", count);
    put(text, LONG_ROD);
    put(text, part);
}

/* Measured between, too: none is looked for through all bands. */
static void bands_measured_often(Growing *text, int count)
{
    bands(text, count);
    put(text, "bench { measure: 30 turns }\n");
}

/* Each was measured, and what comes after it planned again: steps grow with the square. */
static void measured_bands(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "repeat %d { band 3 mm of navy measured: 3 mm } } }\n", count);
    put(text, LONG_ROD);
    put(text, part);
}

static void mirrored(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "symmetric { repeat %d { band 20 turns of navy } } } }\n", count);
    put(text, LONG_ROD);
    put(text, part);
}

/* Each in a layer of its own: two. */
static void layers_of_bands(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part,
             "over { repeat 40000 { band 20 turns of navy } } over { repeat %d { band 20 turns of navy } } } }\n",
             count - 40000);
    put(text, LONG_ROD);
    put(text, part);
}

/* None of them finds room in the band: it is one run. */
static void inlays(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part,
             "band 40 turns of navy { for i in 1 to %d { inlay 1 turn of mist every: 40 turns } } } }\n",
             count - 1); /* and the band */
    put(text, LONG_ROD);
    put(text, part);
}

/* A band before, and the runs of a fade one by one. */
static void runs(Growing *text, int count)
{
    put(text, LONG_ROD "band 20 turns of navy fade to mist runs: [");
    put_times(text, "in 1 out 9, ", (count - 1) / 2);
    put(text, count % 2 ? "] } }\n" : "in 0 out 9] } }\n");
}

/* Two threads and then one. */
static void threads_together(Growing *text, int count)
{
    char part[200];
    put(text, LONG_ROD);
    snprintf(part, sizeof part,
             "repeat %d { band 20 turns of [navy, mist] band 20 turns of navy } band 20 turns of [%s] } }\n",
             (count - 1) / 3, count % 3 == 1 ? "mist" : "navy, mist");
    put(text, part);
}

static void turns(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "band %d turns of navy } }\n", count);
    put(text, LONG_ROD);
    put(text, part);
}

/* The same fault each time. */
static void findings(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "repeat %d { band 0.1 turns of navy } gap 1 mm } }\n", count);
    put(text, LONG_ROD);
    put(text, part);
}

/* On a tube of a metre there is room for strands as fine as this. */
#define WIDE_ROD                                                                                                  \
    "edition 1\nthread fine { diameter: 0.01 mm }\nthread navy { turns: 67 per cm }\n"                            \
    "bench { flattest: 1 deg, steepest: 89 deg, stack: 100 }\n"                                                   \
    "blank tube { at 0 m: 1000 mm  at 9000 m: 1000 mm }\nrod \"A\" on tube { at 20 cm length: 200 m { "

static void strands(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part, "spiral turns: 30 turns ends: 40 turns of navy { strand %d of fine } } }\n",
             count);
    put(text, WIDE_ROD);
    put(text, part);
}

static void two_lines(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part,
             "spiral turns: 30 turns ends: 40 turns of navy { strand 10000 of fine strand %d of fine } } }\n",
             count - 10000);
    put(text, WIDE_ROD);
    put(text, part);
}

/* In two crosswraps. */
static void passes(Growing *text, int count)
{
    char part[400];
    snprintf(part, sizeof part,
             "spiral turns: 30 turns ends: 40 turns of navy { strand 15000 of fine } "
             "spiral turns: 30 turns ends: 40 turns of navy { strand %d of fine } } }\n",
             count - 15000);
    put(text, WIDE_ROD);
    put(text, part);
}

/* Each crossing counts on two sides: those that face up, and the others. */
static void crossings(Growing *text, int count)
{
    char part[200];
    snprintf(part, sizeof part,
             "chevron crossings: %d ends: 40 turns of navy { for i in 1 to 25 { strand 1 of fine } } } }\n",
             count / 50);
    put(text, WIDE_ROD);
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

/* A text of as much as is allowed, and what one more (or the next that can be had) is told by. */
typedef struct Limit {
    void (*put)(Growing *, int);
    int limit, beyond;
    const char *code;
    const char *message, *mend;
} Limit;

#define STEPS "working out this file takes more than 5,000,000 steps"
#define ITEMS "this file has more than 65,536 bands, fades, gaps and inlays"
#define FEWER_LOOPS "use fewer or shorter loops and repeats"
#define SMALLER "make its bands narrower and its repeats fewer, or give each rod a file of its own"
#define FEWER_STRANDS "use fewer strands, starts or crossings, or thicker thread"

static const Limit limits[] = {
    {braces, 64, 65, "T902", "this is nested deeper than 64",
     "put the inner part into a pattern or a `let` of its own"},
    {brackets, 64, 65, "T902", "this is nested deeper than 64",
     "put the inner part into a pattern or a `let` of its own"},
    {layers, 64, 65, "T904", "this place has more than 64 layers", "split it into several places"},
    {places, 65536, 65537, "T904", "this file has more than 65,536 places and parts",
     "use fewer or shorter loops"},
    {parameters, 64, 65, "T904", "this pattern has 65 parameters; at most 64 are allowed",
     "split it into several patterns"},
    {colours, 64, 65, "T203", "a thread has at most 64 colours; these are 65",
     "leave out those that nobody would see"},
    {calls, 64, 65, "T902", "patterns call one another more than 64 deep", "put some of them into one"},
    {terms, 1000, 1001, "T902", "this value has more than 1000 parts inside one another",
     "give a part of it a name with `let`"},
    {steps, 4999980, 4999981, "T904", STEPS, FEWER_LOOPS},
    {turned_lists, 48075, 48076, "T904", STEPS, FEWER_LOOPS},
    {locals, 40322, 40323, "T904", STEPS, FEWER_LOOPS},
    {empty_calls, 227271, 227272, "T904", STEPS, FEWER_LOOPS},
    {bands, 65536, 65537, "T904", ITEMS, "use fewer repeats"},
    {bands_measured_often, 65536, 65537, "T904", ITEMS, "use fewer repeats"},
    {measured_bands, 1580, 1581, "T904",
     "with this layer the file comes to more than 5,000,000 steps of working out with the layers below", SMALLER},
    {mirrored, 32768, 32769, "T904", ITEMS, "use fewer repeats"},
    {layers_of_bands, 65536, 65537, "T904", ITEMS, "use fewer repeats"},
    {inlays, 65536, 65537, "T904", ITEMS, "use fewer repeats"},
    {runs, 65536, 65537, "T904", "with this layer the file comes to more than 65,536 runs", SMALLER},
    {threads_together, 65536, 65537, "T904", "with this layer the file comes to more than 65,536 runs", SMALLER},
    {turns, 10000000, 10000001, "T903", "with this layer the file comes to more than 10,000,000 turns", SMALLER},
    {strands, 20000, 20001, "T203", "this number is too large", "write 20000"},
    {two_lines, 20000, 20001, "T904", "this bundle has more than 20000 strands",
     "use fewer strands of thicker thread"},
    {passes, 20000, 20001, "T904", "with this crosswrap the file comes to more than 20,000 passes", FEWER_STRANDS},
    {crossings, 250000, 250050, "T904", "with this crosswrap the file comes to more than 250,000 crossings",
     FEWER_STRANDS},
    {digits, 15, 16, "T005", "this number cannot be read",
     "write at most 15 digits; no bench measures finer: `3.11111111111111`"},
    {files, 256, 257, "T905", "more than 256 files are used", "put what belongs together into one file"},
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
        Compilation *sound = compiled(limit->put, limit->limit);
        for (uint32_t j = 0; j < sound->findings.list.count; j++)
            if (sound->findings.list.items[j].severity == SEVERITY_ERROR)
                fail_msg("%d, of %s: %s", limit->limit, limit->code, sound->findings.list.items[j].message);
        turnlay_free(sound);
        Compilation *beyond = compiled(limit->put, limit->beyond);
        if (beyond->findings.errors != 1)
            fail_msg("row %u: beyond %d, of %s: %lu errors", i, limit->limit, limit->code,
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

static bool is_told(const Compilation *made, const char *message)
{
    bool told = false;
    for (uint32_t i = 0; i < made->findings.list.count; i++)
        told |= strcmp(made->findings.list.items[i].message, message) == 0;
    return told;
}

/* The same fault each time: the finding is one, and counted, until there were too many. */
static void test_findings_made(void **state)
{
    (void)state;
    Compilation *sound = compiled(findings, 10000), *beyond = compiled(findings, 10001);
    assert_int_equal(sound->findings.errors, 1);
    assert_int_equal(sound->findings.list.items[0].times, 10000);
    assert_int_equal(beyond->findings.errors, 2);
    assert_true(is_told(beyond, "this file has more than 10,000 findings; the rest of it is not checked"));
    turnlay_free(sound);
    turnlay_free(beyond);
}

/* What had to stand in the value that is too deep does not stand in the way of what is meant elsewhere. */
static void test_meant_after_too_deep(void **state)
{
    (void)state;
    Compilation *beyond = compiled(name_too_deep, 1000);
    assert_int_equal(beyond->findings.errors, 2);
    assert_true(is_told(beyond, "this value has more than 1000 parts inside one another"));
    const Finding *second = &beyond->findings.list.items[beyond->findings.list.count - 1];
    assert_string_equal(second->message, "`nvay` is not declared");
    assert_string_equal(second->mend, "write `navy`");
    turnlay_free(beyond);
}

/* Of what cannot be wound the strands count all the same. */
static void test_strands_count(void **state)
{
    (void)state;
    Compilation *sound = compiled(wide_bands, 48000), *beyond = compiled(wide_bands, 49000);
    assert_false(is_told(sound, STEPS));
    assert_true(is_told(beyond, STEPS));
    turnlay_free(sound);
    turnlay_free(beyond);
}

/* Blanks after a text of so many bytes in all. */
static char *widened(const char *text, size_t size)
{
    char *wide = malloc(size + 1);
    assert_non_null(wide);
    memset(wide, ' ', size);
    memcpy(wide, text, strlen(text));
    return wide;
}

/* All files together, the last of them one byte larger or not. */
static void test_bytes_of_all_files(void **state)
{
    (void)state;
    static const char user[] = "edition 1\nuse \"half\"\nuse \"rest\"\n";
    const size_t half = LIMIT_ALL_BYTES / 2, rest = LIMIT_ALL_BYTES - half - strlen(user);
    char *bytes = widened("edition 1\n", half + 1);
    for (size_t more = 0; more < 2; more++) {
        Compilation *made = compilation_new(0);
        assert_int_equal(turnlay_give(made, "user.lay", user, strlen(user)), TURNLAY_DONE);
        assert_int_equal(turnlay_give(made, "half.lay", bytes, half), TURNLAY_DONE);
        assert_int_equal(turnlay_give(made, "rest.lay", bytes, rest + more), TURNLAY_DONE);
        turnlay_finish(made);
        assert_int_equal(made->findings.errors, more);
        assert_true(!more || is_told(made, "with this file, all files together are larger than 16 MiB"));
        turnlay_free(made);
    }
    free(bytes);
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

/* What is read of a text of so many statements, one of them a number and what stands behind it. */
static TurnlayStatus read_behind_statements(int count, int longer, const char *number)
{
    Growing text = {0};
    put(&text, HEAD "pattern dots() { band 30 turns of navy }\n");
    put_numbered(&text, "let a%d = 1\n", 0, count);
    put_numbered(&text, "let b%d = -1\n", 0, longer);
    put(&text, "rod \"A\" on tube { at 20 cm { let many = ");
    put(&text, number);
    put(&text, "dots() } }\n");
    Compilation *compilation = compilation_new(0);
    assert_non_null(compilation);
    turnlay_give(compilation, "long.lay", text.bytes, text.length);
    TurnlayStatus status = turnlay_finish(compilation);
    turnlay_free(compilation);
    free(text.bytes);
    return status;
}

/* A text is read some 1024 words and signs at a time: what hangs on the one before is seen wherever it stands. A
 * word behind a number on its line is meant as its unit, even if a statement might begin there. */
static void test_unit_meant_wherever_it_stands(void **state)
{
    (void)state;
    for (int longer = 0; longer < 4; longer++)
        for (int count = 238; count < 256; count++) {
            assert_int_equal(read_behind_statements(count, longer, "3 "), TURNLAY_HAS_ERRORS);
            assert_int_equal(read_behind_statements(count, longer, "3 mm "), TURNLAY_DONE);
            assert_int_equal(read_behind_statements(count, longer, "3\n"), TURNLAY_DONE);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_each_limit),
                                       cmocka_unit_test(test_findings_made),
                                       cmocka_unit_test(test_meant_after_too_deep),
                                       cmocka_unit_test(test_strands_count),
                                       cmocka_unit_test(test_bytes_of_all_files),
                                       cmocka_unit_test(test_files_used_by_many),
                                       cmocka_unit_test(test_all_braces_left_open),
                                       cmocka_unit_test(test_unit_meant_wherever_it_stands),
                                       cmocka_unit_test(test_findings_beyond_those_kept)};
    return cmocka_run_group_tests_name("limits of a file", tests, NULL, NULL);
}
