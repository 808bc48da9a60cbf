/* Memory, interned text, sources and findings. */
#include <math.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

#include "base/finding.h"
#include "base/halfway.h"
#include "base/limits.h"
#include "base/numbering.h"
#include "base/sort.h"
#include "base/source.h"
#include "base/text.h"
#include "base/whole.h"
#include "in_memory.h"

/* True if the trap was sprung. */
static bool exhausts(Memory *memory, size_t count, size_t size)
{
    if (setjmp(*trap_set(&memory->trap)) != 0)
        return true;
    arena_take_many(&memory->arena, count, size);
    return false;
}

static void test_memory_is_zeroed_and_aligned(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    static const unsigned char zeros[5000];
    for (size_t size = 1; size < sizeof zeros; size += 7) {
        unsigned char *taken = arena_take(&memory->arena, size);
        assert_int_equal((uintptr_t)taken % _Alignof(max_align_t), 0);
        assert_memory_equal(taken, zeros, size);
        memset(taken, 0xff, size);
    }
}

static void test_more_than_there_is(void **state)
{
    Memory *memory = *state;
    assert_true(exhausts(memory, SIZE_MAX / 16 + 2, 16)); /* 16 bytes if the product wrapped round */
    assert_true(exhausts(memory, SIZE_MAX, 1));
    assert_true(exhausts(memory, SIZE_MAX - 20, 1));
    assert_false(exhausts(memory, 1000, 1000)); /* the arena goes on after a failure */
}

/* A text longer than printf can count springs the trap, as one does that is longer than the memory left. */
static void test_text_longer_than_an_int(void **state)
{
    Memory *memory = *state;
    const char *volatile wide = "%2147483648s"; /* so that the compiler does not see it */
    if (setjmp(*trap_set(&memory->trap)) == 0) {
        text_format(&memory->arena, wide, "a");
        fail_msg("a text of two billion characters was made");
    }
}

static void test_list_grows(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    LIST_OF(uint32_t) list = {0};
    for (uint32_t i = 0; i < 10000; i++)
        *LIST_ADD(&memory->arena, &list) = i;
    assert_int_equal(list.count, 10000);
    for (uint32_t i = 0; i < list.count; i++)
        assert_int_equal(list.items[i], i);
}

/* One turn of work that asks the system for several blocks; false if memory ran out on the way. */
static bool work_within(Trap *trap)
{
    Arena arena;
    arena_start(&arena, trap);
    if (setjmp(*trap_set(trap)) != 0) {
        arena_end(&arena);
        return false;
    }
    for (int i = 0; i < 100; i++)
        memset(arena_take(&arena, 10000), 1, 10000);
    arena_end(&arena);
    trap_clear(trap);
    return true;
}

/* Where nobody waits for it, running out of memory ends the program by its own hand, and never goes to where
 * somebody waited once. */
static void test_a_trap_that_is_not_set_aborts(void **state)
{
    (void)state;
    Trap used = {.fail_at = 0}, trap = {.fail_at = 1};
    assert_true(work_within(&used));
    assert_false(used.set);
    pid_t child = fork();
    if (child == 0) {
        signal(SIGABRT, SIG_DFL);
        Arena arena;
        arena_start(&arena, &trap);
        arena_take(&arena, 1);
        _exit(0);
    }
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status));
    assert_int_equal(WTERMSIG(status), SIGABRT);
}

/* Each request for memory in turn is made to fail; every one of them springs the trap, the one after the last
 * none. */
static void test_every_request_can_fail(void **state)
{
    (void)state;
    Trap counted = {0};
    assert_true(work_within(&counted));
    assert_true(counted.requests > 3);
    for (uint64_t fail_at = 1; fail_at <= counted.requests; fail_at++) {
        Trap trap = {.fail_at = fail_at};
        assert_false(work_within(&trap));
        assert_int_equal(trap.requests, fail_at);
    }
    Trap beyond = {.fail_at = counted.requests + 1};
    assert_true(work_within(&beyond));
}

/* FNV-1a, 64 bits: test vectors of G. Fowler, L. C. Noll and K.-P. Vo (www.isthe.com/chongo/tech/comp/fnv; RFC
 * 9923, test vectors) [the values from memory]. */
/* Eight bytes at a time: of every length each byte counts, and a byte more, and nothing behind the last one. */
static void test_hash_of_words(void **state)
{
    (void)state;
    enum { LONGEST = 40 };
    for (size_t length = 0; length <= LONGEST; length++) {
        char *bytes = malloc(length + 1);
        assert_non_null(bytes);
        memset(bytes, 'a', length + 1);
        uint64_t hash = hash_words(HASH_START, bytes, length);
        assert_true(hash != hash_words(HASH_START, bytes, length + 1));
        assert_true(hash != hash_words(HASH_START + 1, bytes, length));
        bytes[length] = 'b';
        assert_true(hash == hash_words(HASH_START, bytes, length));
        for (size_t i = 0; i < length; i++) {
            bytes[i] = 'b';
            assert_true(hash != hash_words(HASH_START, bytes, length));
            bytes[i] = 'a';
        }
        bytes[length] = 0;
        assert_true(length == 0
                    || hash_words(HASH_START, bytes, length) != hash_words(HASH_START, bytes, length + 1));
        free(bytes);
    }
    /* The same on every machine: reckoned by hand from the definition in Python. */
    assert_true(hash_words(HASH_START, "", 0) == 0xf8bb92c91b3f5cc0u);
    assert_true(hash_words(HASH_START, "abc", 3) == 0x202d77302eb23da4u);
    assert_true(hash_words(HASH_START, "turns of navy", 13) == 0xcb42ad76a027928au);
}

static void test_hash_as_published(void **state)
{
    (void)state;
    assert_true(hash_bytes(HASH_START, "", 0) == 0xcbf29ce484222325u);
    assert_true(hash_bytes(HASH_START, "a", 1) == 0xaf63dc4c8601ec8cu);
    assert_true(hash_bytes(HASH_START, "foobar", 6) == 0x85944171f73967e8u);
    assert_true(hash_bytes(hash_bytes(HASH_START, "foo", 3), "bar", 3) == 0x85944171f73967e8u);
}

/* Equal texts are one object, also after the table has been spread over more chains. */
static void test_equal_texts_are_one(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    enum { COUNT = 5000 };
    static const Text *kept[COUNT];
    Texts texts;
    texts_start(&texts, &memory->arena);
    for (int i = 0; i < COUNT; i++)
        kept[i] = text_of_string(&texts, text_format(&memory->arena, "shade%d", i));
    for (int i = 0; i < COUNT; i++) {
        char spelling[32];
        int length = snprintf(spelling, sizeof spelling, "shade%d and more", i) - (int)strlen(" and more");
        const Text *text = text_of(&texts, spelling, (size_t)length);
        assert_ptr_equal(text, kept[i]);
        assert_int_equal(text->length, length);
        assert_int_equal(text->bytes[length], 0);
        assert_memory_equal(text->bytes, spelling, (size_t)length);
    }
    assert_int_equal(texts.count, COUNT);
    assert_true(texts.chain_count >= texts.count);
    assert_ptr_not_equal(text_of_string(&texts, "navy"), text_of_string(&texts, "Navy"));
    assert_int_equal(text_of_string(&texts, "")->length, 0);
}

static void test_long_text_is_formatted_whole(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    char blanks[1000] = {0};
    memset(blanks, ' ', sizeof blanks - 1);
    const char *text = text_format(&memory->arena, "%s%d", blanks, 42);
    assert_int_equal(strlen(text), 1001);
    assert_string_equal(text + 999, "42");
}

/* Insertion, deletion, replacement and swapped neighbours count one each. "kitten" and "sitting" are V. I.
 * Levenshtein's distance 3 of the textbooks; "ca" and "abc" are 3 because nothing is typed between swapped
 * letters (optimal string alignment; en.wikipedia.org, "Damerau-Levenshtein distance" [from memory]). */
/* What is sought stands before it, there or behind it: with as many places on either side, or one. */
static void test_halfway(void **state)
{
    (void)state;
    for (uint32_t low = 0; low < 20; low++)
        for (uint32_t high = low + 1; high < 40; high++) {
            uint32_t middle = halfway(low, high);
            assert_in_range(middle, low, high - 1);
            assert_in_range(middle - low, high - 1 - middle, high - middle);
        }
    assert_int_equal(halfway(UINT32_MAX - 2, UINT32_MAX), UINT32_MAX - 1);
}

static void test_typing_distance(void **state)
{
    (void)state;
    static const struct {
        const char *a, *b;
        unsigned distance;
    } cases[] = {
        {"", "", 0},          {"band", "band", 0},      {"", "band", 4},         {"band", "bnad", 1},
        {"band", "bands", 1}, {"band", "bad", 1},       {"band", "bend", 1},     {"abcd", "badc", 2},
        {"ca", "abc", 3},     {"kitten", "sitting", 3}, {"mirror", "mirorr", 1}, {"foam", "navy", 4},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_int_equal(text_distance(cases[i].a, cases[i].b, 10), cases[i].distance);
        assert_int_equal(text_distance(cases[i].b, cases[i].a, 10), cases[i].distance);
    }
    assert_int_equal(text_distance("kitten", "sitting", 2), 3);
    assert_int_equal(text_distance("kitten", "sitting", 3), 3);
    assert_int_equal(text_distance("navy", "abcdefgh", 1), 2);
    char longest[41] = {0}, longer[42] = {0};
    memset(longest, 'a', 40);
    memset(longer, 'a', 41);
    assert_int_equal(text_distance(longest, longest, 2), 0);
    assert_int_equal(text_distance(longer, longer, 2), 3); /* too long to be a slip of typing */
}

static Source source_of(const char *bytes)
{
    return (Source){.path = "x.lay", .use_path = "", .bytes = bytes, .length = (uint32_t)strlen(bytes)};
}

/* Lines end with LF or CR LF; columns count characters: the sea is one, in two bytes. */
static void test_line_and_column(void **state)
{
    (void)state;
    Source source = source_of("edition 1\r\nlet \xc3\xa9 = 2\n\nband");
    static const struct {
        uint32_t offset, line, column, line_start, line_end;
    } cases[] = {
        {0, 1, 1, 0, 9},    {8, 1, 9, 0, 9},    {10, 1, 11, 0, 9},   {11, 2, 1, 11, 21},
        {15, 2, 5, 11, 21}, {17, 2, 6, 11, 21}, {20, 2, 9, 11, 21},  {22, 3, 1, 22, 22},
        {23, 4, 1, 23, 27}, {27, 4, 5, 23, 27}, {999, 4, 5, 23, 27},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        LineColumn position = source_position(&source, cases[i].offset);
        assert_int_equal(position.line, cases[i].line);
        assert_int_equal(position.column, cases[i].column);
        uint32_t from, to;
        source_line(&source, cases[i].offset, &from, &to);
        assert_int_equal(from, cases[i].line_start);
        assert_int_equal(to, cases[i].line_end);
    }
}

static void test_every_code_is_found_again(void **state)
{
    (void)state;
    for (int code = 0; code < FINDING_CODE_COUNT; code++) {
        const char *text = finding_code_text((FindingCode)code);
        char small[8] = {0};
        snprintf(small, sizeof small, "t%s", text + 1);
        assert_int_equal(strlen(text), 4);
        assert_int_equal(strspn(text + 1, "0123456789"), 3);
        assert_int_equal(finding_code_of(text), code);
        assert_int_equal(finding_code_of(small), code);
        assert_int_equal(finding_code_of(text + 1), code);
        assert_true(strlen(finding_title((FindingCode)code)) > 5);
        if (code)
            assert_true(strcmp(finding_code_text((FindingCode)(code - 1)), text) < 0);
    }
    static const char *const strange[] = {"", "T", "T1", "T1010", "X101", "T000", "TT101"};
    for (int i = 0; i < 7; i++)
        assert_int_equal(finding_code_of(strange[i]), FINDING_CODE_COUNT);
    assert_string_equal(severity_word(SEVERITY_NOTE), "note");
    assert_string_equal(severity_word(SEVERITY_WARNING), "warning");
    assert_string_equal(severity_word(SEVERITY_ERROR), "error");
}

static void test_finding_keeps_what_is_said(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Findings findings;
    findings_start(&findings, &memory->arena);
    Span at = {10, 14, 0};
    Finding *finding = finding_add(&findings, FINDING_UNKNOWN_NAME, at, "there is no \"%s\"", "navvy");
    finding_label(&findings, finding, "not declared");
    for (uint32_t i = 0; i < FINDING_RELATED + 1; i++)
        finding_relate(&findings, finding, (Span){i, i + 1, 0}, "near %u", i);
    finding_mend(&findings, finding, "write %s", "navy");
    finding_edit(&findings, finding, at, "navy");
    const Finding *kept = &findings.list.items[0];
    assert_string_equal(kept->message, "there is no \"navvy\"");
    assert_string_equal(kept->at.label, "not declared");
    assert_int_equal(kept->related_count, FINDING_RELATED);
    assert_string_equal(kept->related[2].label, "near 2");
    assert_string_equal(kept->mend, "write navy");
    assert_true(kept->has_edit);
    assert_string_equal(kept->edit.text, "navy");
    assert_int_equal(kept->severity, SEVERITY_ERROR);
}

static void test_same_place_is_counted_once(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Findings findings;
    findings_start(&findings, &memory->arena);
    for (int i = 0; i < 3; i++) {
        Finding *finding = finding_add(&findings, FINDING_DRIFT, (Span){1, 2, 0}, "drift %d", i);
        finding_mend(&findings, finding, "mend %d", i);
    }
    finding_add(&findings, FINDING_DRIFT, (Span){1, 2, 1}, "in another file");
    finding_add(&findings, FINDING_RIDGE, (Span){1, 2, 0}, "of another code");
    finding_add(&findings, FINDING_NOT_HELD, (Span){1, 3, 0}, "of another length");
    assert_int_equal(findings.list.count, 4);
    assert_int_equal(findings.list.items[0].times, 3);
    assert_string_equal(findings.list.items[0].message, "drift 0");
    assert_string_equal(findings.list.items[0].mend, "mend 0");
    assert_int_equal(findings.notes, 2);
    assert_int_equal(findings.warnings, 1);
    assert_int_equal(findings.errors, 1);
}

/* Also those that were not kept: here the last three of the warnings. */
static void test_warnings_are_raised(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Findings findings;
    findings_start(&findings, &memory->arena);
    finding_add(&findings, FINDING_DRIFT, (Span){1, 2, 0}, "a note");
    finding_add(&findings, FINDING_NOT_HELD, (Span){1, 3, 0}, "an error");
    for (uint32_t i = 0; i < LIMIT_FINDINGS + 1; i++)
        finding_add(&findings, FINDING_RIDGE, (Span){i, i + 1, 1}, "a warning");
    assert_int_equal(findings.left_out, 3);
    findings_raise_warnings(&findings);
    assert_int_equal(findings.errors, LIMIT_FINDINGS + 2);
    assert_int_equal(findings.warnings, 0);
    assert_int_equal(findings.notes, 1);
    for (uint32_t i = 0; i < findings.list.count; i++)
        assert_int_equal(findings.list.items[i].severity, i ? SEVERITY_ERROR : SEVERITY_NOTE);
    findings_raise_warnings(&findings);
    assert_int_equal(findings.errors, LIMIT_FINDINGS + 2);
}

static void test_findings_have_a_limit(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Findings findings;
    findings_start(&findings, &memory->arena);
    for (uint32_t i = 0; i < LIMIT_FINDINGS + 7; i++) {
        const char *before = finding_text(&findings, "here %u", i);
        Finding *finding = finding_add(&findings, FINDING_SYNTAX, (Span){i, i + 1, 0}, "%s", before);
        finding_label(&findings, finding, "%s", finding_text(&findings, "this %u", i));
        assert_true(finding_is_kept(finding) == (i < LIMIT_FINDINGS));
    }
    assert_string_equal(finding_text(&findings, "more"), "");
    assert_int_equal(findings.list.count, LIMIT_FINDINGS);
    const Finding *last = &findings.list.items[LIMIT_FINDINGS - 1];
    assert_string_equal(last->message, "here 99");
    assert_string_equal(last->at.label, "this 99");
    assert_int_equal(findings.left_out, 7);
    assert_int_equal(findings.errors, LIMIT_FINDINGS + 7);
}

/* What words are put together from does not gather, however often the same thing is found. */
static void test_words_of_findings_go_again(void **state)
{
    enum { TIMES = 20000, BYTES = 1000 };
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Findings findings;
    findings_start(&findings, &memory->arena);
    for (int i = 0; i < TIMES; i++) {
        const char *before = text_format(findings.words, "%0*d", BYTES, i);
        Finding *finding = finding_add(&findings, FINDING_DRIFT, (Span){1, 2, 0}, "%s", before);
        finding_mend(&findings, finding, "%s", text_format(findings.words, "%0*d", BYTES, i));
        assert_int_equal(strtol(before, NULL, 10), i); /* for its label and its mend */
    }
    assert_int_equal(findings.made, TIMES);
    assert_int_equal(findings.list.items[0].times, TIMES);
    assert_true(memory->trap.requests < 10);
}

/* A name may be as long as a file: words that hold it end where nobody reads on, and at a whole character. */
static void test_long_words_are_cut(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Findings findings;
    findings_start(&findings, &memory->arena);
    char text[FINDING_WORDS + 4];
    for (int shift = 0; shift < 4; shift++) {
        memset(text, 'a', FINDING_WORDS);
        memcpy(text + FINDING_WORDS - shift, "\xe6\xb8\xaf", 4);
        Finding *finding = finding_add(&findings, FINDING_DRIFT, (Span){(uint32_t)shift, 9, 0}, "%s", text);
        finding_edit(&findings, finding, (Span){1, 2, 0}, "%s", text);
        size_t length = strlen(finding->message);
        bool whole = shift == 3;
        assert_int_equal(length, whole ? FINDING_WORDS : FINDING_WORDS - shift + 3);
        assert_string_equal(finding->message + length - 3, whole ? "\xe6\xb8\xaf" : "\u2026");
        assert_string_equal(finding->edit.text, text);
    }
}

/* Given back while the arena goes on, and used again. */
static void test_child_arenas(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Arena *child = arena_child(&memory->arena), *other = arena_child(&memory->arena);
    for (int round = 0; round < 100; round++) {
        unsigned char *small = arena_take(child, 1000);
        for (int i = 0; i < 1000; i++)
            assert_int_equal(small[i], 0);
        memset(small, 1, 1000);
        arena_clear(child);
    }
    uint64_t requests = memory->trap.requests;
    assert_true(requests < 5);
    unsigned char *large = arena_take(child, 1 << 20), *kept = arena_take(other, 100);
    memset(large, 1, 1 << 20);
    memset(kept, 2, 100);
    arena_exchange(child, other);
    arena_clear(child);
    assert_int_equal(large[(1 << 20) - 1], 1);
    arena_clear(other);
    arena_take(other, 1 << 12);
    assert_int_equal(memory->trap.requests, requests + 2);      /* the large block, and the other's first */
    unsigned char *again = arena_take(arena_child(child), 100); /* ends with its parent */
    assert_int_equal(again[99], 0);
}

static void test_findings_in_source_order(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Findings findings;
    findings_start(&findings, &memory->arena);
    findings_sort(&findings);
    finding_add(&findings, FINDING_RIDGE, (Span){5, 6, 1}, "d");
    finding_add(&findings, FINDING_RIDGE, (Span){9, 10, 0}, "c");
    finding_add(&findings, FINDING_DRIFT, (Span){2, 3, 0}, "b");
    finding_add(&findings, FINDING_NOT_UTF8, (Span){2, 9, 0}, "a");
    findings_sort(&findings);
    for (uint32_t i = 0; i < 4; i++)
        assert_int_equal(findings.list.items[i].message[0], "abcd"[i]);
}

/* A billionth to either side belongs to the whole number; what is further off does not. */
static void test_whole_numbers(void **state)
{
    (void)state;
    const double near = 0.9e-9, off = 1.1e-9;
    assert_true(is_whole(NAN));
    for (double whole = -3; whole <= 1000; whole += 17) {
        assert_true(whole_above(whole) == whole && whole_below(whole) == whole && is_whole(whole));
        assert_true(whole_above(whole + near) == whole && whole_below(whole + near) == whole
                    && is_whole(whole + near));
        assert_true(whole_above(whole - near) == whole && whole_below(whole - near) == whole
                    && is_whole(whole - near));
        assert_true(whole_above(whole + off) == whole + 1 && whole_below(whole + off) == whole
                    && !is_whole(whole + off));
        assert_true(whole_above(whole - off) == whole && whole_below(whole - off) == whole - 1
                    && !is_whole(whole - off));
        assert_true(whole_above(whole + 0.5) == whole + 1 && whole_below(whole + 0.5) == whole
                    && !is_whole(whole + 0.5));
    }
}

/* Every arrangement of up to six numbers, some of them equal. */
static void test_numbers_are_sorted(void **state)
{
    (void)state;
    for (uint32_t count = 0; count <= 6; count++) {
        uint32_t arrangements = 1;
        for (uint32_t i = 0; i < count; i++)
            arrangements *= 4;
        for (uint32_t which = 0; which < arrangements; which++) {
            double numbers[6];
            uint32_t had[4] = {0}, has[4] = {0}, rest = which;
            for (uint32_t i = 0; i < count; i++, rest /= 4) {
                numbers[i] = rest % 4;
                had[rest % 4]++;
            }
            sort_numbers(numbers, count);
            for (uint32_t i = 0; i < count; i++)
                has[(uint32_t)numbers[i]]++;
            for (uint32_t i = 1; i < count; i++)
                assert_true(numbers[i - 1] <= numbers[i]);
            assert_memory_equal(had, has, sizeof had);
        }
    }
}

/* Every number once, keys rising, those of one key in their order. */
static void test_numbers_by_key(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    uint32_t keys[40], rest = 7;
    for (uint32_t count = 0; count <= 40; count++)
        for (uint32_t key_count = 1; key_count < 9; key_count++) {
            for (uint32_t i = 0; i < count; i++)
                keys[i] = (rest = rest * 1664525 + 1013904223) % 1000 % key_count;
            const uint32_t *numbers = numbers_by_key(arena, keys, count, key_count);
            uint64_t seen = 0;
            for (uint32_t i = 0; i < count; i++) {
                assert_true(numbers[i] < count);
                seen |= UINT64_C(1) << numbers[i];
                if (i > 0)
                    assert_true(keys[numbers[i - 1]] < keys[numbers[i]]
                                || (keys[numbers[i - 1]] == keys[numbers[i]] && numbers[i - 1] < numbers[i]));
            }
            assert_true(seen == (UINT64_C(1) << count) - 1);
        }
}

/* Of a page: what may be taken in all, large arrays as they are last; a page is told apart from memory run out. */
/* Bytes of 0 to 999 in writing, of one to three digits: those of each length apart, and a key that begins another.
 */
static void test_bytes_are_numbered(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Numbering numbering = {.arena = &memory->arena};
    char key[8];
    for (uint32_t i = 0; i < 1000; i++) {
        size_t length = (size_t)snprintf(key, sizeof key, "%u", (unsigned)i);
        assert_int_equal(number_given(&numbering, key, length), 0);
        assert_int_equal(give_number(&numbering, key, length), i + 1);
        memset(key, 'x', sizeof key);
    }
    for (uint32_t i = 0; i < 1000; i++)
        assert_int_equal(number_given(&numbering, key, (size_t)snprintf(key, sizeof key, "%u", (unsigned)i)),
                         i + 1);
    assert_int_equal(number_given(&numbering, "1000", 4), 0);
    assert_int_equal(number_given(&numbering, "1000", 3), 101);
    assert_int_equal(number_given(&numbering, "1000", 0), 0);
    assert_true(numbering.place_count >= 2 * numbering.list.count);
}

static void test_an_arena_has_a_limit(void **state)
{
    Memory *memory = *state;
    enum { LIMIT = 1 << 20, LARGE = LIMIT / 2 };
    for (int more = 0; more < 2; more++) {
        volatile bool beyond = true;
        memory->arena.most = LIMIT;
        if (setjmp(*trap_set(&memory->trap)) == 0) {
            char *array = arena_grow(&memory->arena, NULL, 0, LARGE / 2, 1);
            array = arena_grow(&memory->arena, array, LARGE / 2, LARGE, 1);
            arena_take(&memory->arena, LIMIT - LARGE);
            array[LARGE - 1] = 'x';
            assert_int_equal(memory->arena.taken, LIMIT);
            if (more)
                arena_grow(&memory->arena, array, LARGE, LARGE + 16, 1);
            beyond = false;
        }
        trap_clear(&memory->trap);
        assert_int_equal(beyond, more);
        assert_int_equal(memory->trap.beyond, more ? BEYOND_PAGE_MEMORY : BEYOND_NOTHING);
        arena_end(&memory->arena);
    }
    memory->trap.beyond = BEYOND_NOTHING;
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_memory_is_zeroed_and_aligned),
        TEST(test_more_than_there_is),
        TEST(test_text_longer_than_an_int),
        TEST(test_list_grows),
        TEST(test_a_trap_that_is_not_set_aborts),
        TEST(test_every_request_can_fail),
        TEST(test_hash_as_published),
        TEST(test_hash_of_words),
        TEST(test_equal_texts_are_one),
        TEST(test_long_text_is_formatted_whole),
        TEST(test_halfway),
        TEST(test_typing_distance),
        TEST(test_line_and_column),
        TEST(test_every_code_is_found_again),
        TEST(test_finding_keeps_what_is_said),
        TEST(test_same_place_is_counted_once),
        TEST(test_warnings_are_raised),
        TEST(test_findings_have_a_limit),
        TEST(test_words_of_findings_go_again),
        TEST(test_long_words_are_cut),
        TEST(test_child_arenas),
        TEST(test_findings_in_source_order),
        TEST(test_whole_numbers),
        TEST(test_numbers_are_sorted),
        TEST(test_numbers_by_key),
        TEST(test_bytes_are_numbered),
        TEST(test_an_arena_has_a_limit),
    };
    return cmocka_run_group_tests_name("base", tests, NULL, NULL);
}
