/* The pages: findings, plan and needs from values built by hand. The expected texts are our own; only the
 * form of CSV is published (RFC 4180). */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "emit/emit.h"
#include "base/line_map.h"
#include "base/visible.h"
#include "plan/plan.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

static Trap trap;
static Arena arena;

static int start(void **state)
{
    (void)state;
    trap = (Trap){.fail_at = 0};
    arena_start(&arena, &trap);
    return 0;
}

static int end(void **state)
{
    (void)state;
    arena_end(&arena);
    return 0;
}

static Sources sources_of(const char *const *texts, const char *const *paths, int count)
{
    Sources sources = {0};
    for (int i = 0; i < count; i++)
        *LIST_ADD(&arena, &sources.list) =
            (Source){paths[i], i ? "std/trims" : "", texts[i], (uint32_t)strlen(texts[i])};
    sources.pattern_files = (uint32_t)count;
    return sources;
}

static Sources one_source(const char *text) { return sources_of(&text, (const char *[]){"harbour.lay"}, 1); }

/* The stretch of a source that reads so. */
static Span span_of(const Sources *sources, uint32_t file, const char *words)
{
    const char *bytes = sources->list.items[file].bytes, *found = strstr(bytes, words);
    assert_non_null(found);
    uint32_t from = (uint32_t)(found - bytes);
    return (Span){from, from + (uint32_t)strlen(words), file};
}

static const char *text_of_buffer(Buffer *out)
{
    buffer_put(out, "", 1);
    return out->bytes;
}

static const char *report(const Findings *findings, const Sources *sources, bool colour)
{
    Buffer out;
    buffer_start(&out, &arena);
    emit_findings_text(&out, findings, sources, SHOW_ALL, colour);
    return text_of_buffer(&out);
}

static void a_place_is_found_as_by_counting(void **state)
{
    (void)state;
    Buffer text;
    buffer_start(&text, &arena);
    for (int i = 0; i < 200; i++)
        buffer_text(&text, i % 7 ? "b\xc3\xa4nd \xe8\x97\x8d, " : "band\r\n\n");
    Sources sources = one_source(text_of_buffer(&text));
    LineMap *lines = line_map_make(&arena, &sources);
    const Source *source = &sources.list.items[0];
    for (uint32_t offset = 0; offset <= source->length + 3; offset++) {
        LineColumn expected = source_position(source, offset),
                   found = line_map_find(lines, (Span){offset, offset, 0});
        assert_int_equal(found.line, expected.line);
        assert_int_equal(found.column, expected.column);
    }
}

static void a_finding_shows_its_places_and_its_mend(void **state)
{
    (void)state;
    Sources sources = one_source("edition 1\n    band 4 turns of navy\n    fade to mist steps: 4\n");
    Findings findings;
    findings_start(&findings, &arena);
    Span fade = span_of(&sources, 0, "mist");
    Finding *finding = finding_add(&findings, FINDING_NOT_HELD, fade, "mist is not held before its first turn");
    finding_label(&findings, finding, "its tag lies under 4 turns of navy; 6 are needed");
    finding_relate(&findings, finding, span_of(&sources, 0, "band 4 turns of navy"), "all the turns before it");
    finding_mend(&findings, finding, "make this band at least 6 turns (0.92 mm)");
    finding_edit(&findings, finding, span_of(&sources, 0, "4 turns"), "6 turns");
    finding_add(&findings, FINDING_NOT_HELD, fade, "once more");
    finding =
        finding_add(&findings, FINDING_NOMINAL_DIAMETER, span_of(&sources, 0, "navy"), "nobody measured navy");
    finding_mend(&findings, finding, "count its turns");
    finding_edit(&findings, finding, span_of(&sources, 0, "navy"), "mist");
    assert_string_equal(
        report(&findings, &sources, false),
        "harbour.lay:3:13: error: mist is not held before its first turn (T401, 2 places like this)\n"
        "    written  fade to \xc2\xabmist\xc2\xbb steps: 4\n"
        "             its tag lies under 4 turns of navy; 6 are needed\n"
        "    line 2   \xc2\xab"
        "band 4 turns of navy\xc2\xbb\n"
        "             all the turns before it\n"
        "    mend     make this band at least 6 turns (0.92 mm)\n"
        "    write    band 6 turns of navy\n"
        "\n"
        "harbour.lay:2:21: note: nobody measured navy (T503)\n"
        "    written  band 4 turns of \xc2\xabnavy\xc2\xbb\n"
        "    mend     count its turns\n"
        "    write    band 4 turns of mist\n"
        "\n"
        "1 error, 1 note\n");
    assert_null(strchr(report(&findings, &sources, false), '\033'));
    const char *coloured = report(&findings, &sources, true);
    assert_non_null(strstr(coloured, ":3:13: \033[1;31merror\033[0m: mist is"));
    assert_non_null(strstr(coloured, "fade to \033[1;31m\xc2\xabmist\xc2\xbb\033[0m steps"));
    assert_non_null(strstr(coloured, "line 2   \033[1m\xc2\xab"
                                     "band 4 turns of navy\xc2\xbb\033[0m\n"));
    assert_non_null(strstr(coloured, "write    band \033[1m6 turns\033[0m of navy\n"));
}

static void a_place_in_another_file_is_named(void **state)
{
    (void)state;
    Sources sources = sources_of((const char *[]){"trim(navy)\n", "\npattern trim(a: length) {}\n"},
                                 (const char *[]){"harbour.lay", "std/trims.lay"}, 2);
    Findings findings;
    findings_start(&findings, &arena);
    findings.left_out = 3;
    findings.errors = 3;
    Finding *finding = finding_add(&findings, FINDING_WRONG_KIND, span_of(&sources, 0, "trim"), "another");
    finding_relate(&findings, finding, span_of(&sources, 1, "a: length"), "of this");
    finding_edit(&findings, finding, span_of(&sources, 1, "length"), "count");
    finding = finding_add(&findings, FINDING_WRONG_KIND, span_of(&sources, 0, "navy"), "navy is a thread");
    finding_relate(&findings, finding, span_of(&sources, 1, "a: length"), "wanted here");
    finding_relate(&findings, finding, span_of(&sources, 0, "trim"), "called here");
    finding_edit(&findings, finding, span_of(&sources, 1, "length"), "thread");
    assert_string_equal(report(&findings, &sources, false),
                        "harbour.lay:1:1: error: another (T104)\n"
                        "    written  \xc2\xabtrim\xc2\xbb(navy)\n"
                        "    file     std/trims.lay\n"
                        "    line 2   pattern trim(\xc2\xab"
                        "a: length\xc2\xbb) {}\n"
                        "             of this\n"
                        "    write    pattern trim(a: count) {}\n"
                        "\n"
                        "harbour.lay:1:6: error: navy is a thread (T104)\n"
                        "    written  trim(\xc2\xabnavy\xc2\xbb)\n"
                        "    file     std/trims.lay\n"
                        "    line 2   pattern trim(\xc2\xab"
                        "a: length\xc2\xbb) {}\n"
                        "             wanted here\n"
                        "    file     harbour.lay\n"
                        "    line 1   \xc2\xabtrim\xc2\xbb(navy)\n"
                        "             called here\n"
                        "    file     std/trims.lay\n"
                        "    line 2   pattern trim(a: \xc2\xablength\xc2\xbb) {}\n"
                        "    write    pattern trim(a: thread) {}\n"
                        "\n"
                        "5 errors (3 of them not shown)\n");
}

/* Of further places in a line that was just shown only their words are. */
static void places_in_one_line_share_it(void **state)
{
    (void)state;
    const char *const texts[] = {"edition 1\nband 12 turns + 3 mm of navy\nlet a = b + c {\n}\n", "let a = 1\n"};
    Sources sources = sources_of(texts, (const char *[]){"harbour.lay", "std/trims.lay"}, 2);
    Findings findings;
    findings_start(&findings, &arena);
    Finding *finding = finding_add(&findings, FINDING_WRONG_KIND, span_of(&sources, 0, "12 turns + 3 mm"), "sum");
    finding_relate(&findings, finding, span_of(&sources, 0, "12 turns"), "turns");
    finding_relate(&findings, finding, span_of(&sources, 0, "b + c"), "%s", "");
    finding_relate(&findings, finding, span_of(&sources, 0, "{\n}"), "a brace");
    finding = finding_add(&findings, FINDING_WRONG_KIND, span_of(&sources, 0, "1"), "here");
    finding_relate(&findings, finding, span_of(&sources, 1, "1"), "there");
    finding = finding_add(&findings, FINDING_WRONG_KIND, span_of(&sources, 0, "edition"), "word");
    finding = finding_add(&findings, FINDING_WRONG_KIND, (Span){0, 0, 0}, "file");
    finding_relate(&findings, finding, span_of(&sources, 0, "edition"), "here");
    assert_string_equal(report(&findings, &sources, false), "harbour.lay:2:6: error: sum (T104)\n"
                                                            "    written  band \xc2\xab"
                                                            "12 turns + 3 mm\xc2\xbb of navy\n"
                                                            "             \xc2\xab"
                                                            "12 turns\xc2\xbb: turns\n"
                                                            "    line 3   let a = \xc2\xab"
                                                            "b + c\xc2\xbb {\n"
                                                            "             \xc2\xab{...\xc2\xbb: a brace\n"
                                                            "\n"
                                                            "harbour.lay:1:9: error: here (T104)\n"
                                                            "    written  edition \xc2\xab"
                                                            "1\xc2\xbb\n"
                                                            "    file     std/trims.lay\n"
                                                            "    line 1   let a = \xc2\xab"
                                                            "1\xc2\xbb\n"
                                                            "             there\n"
                                                            "\n"
                                                            "harbour.lay:1:1: error: word (T104)\n"
                                                            "    written  \xc2\xab"
                                                            "edition\xc2\xbb 1\n"
                                                            "\n"
                                                            "harbour.lay:1:1: error: file (T104)\n"
                                                            "    line 1   \xc2\xab"
                                                            "edition\xc2\xbb 1\n"
                                                            "             here\n"
                                                            "\n"
                                                            "4 errors\n");
}

/* The report of one finding without words, with the edit if one is given, below its first line. */
static const char *rows_of(const char *text, Span span, const char *mend, const Edit *edit)
{
    Sources sources = one_source(text);
    Findings findings;
    findings_start(&findings, &arena);
    Finding *finding = finding_add(&findings, FINDING_SYNTAX, span, "here");
    finding_mend(&findings, finding, "%s", mend);
    if (edit)
        finding_edit(&findings, finding, edit->span, "%s", edit->text);
    const char *whole = report(&findings, &sources, false), *line = strchr(whole, '\n') + 1;
    return text_format(&arena, "%.*s", (int)(strstr(line, "\n\n1 ") - line), line);
}

static const char *shown_at(const char *text, uint32_t from, uint32_t to)
{
    return rows_of(text, (Span){from, to, 0}, "", NULL);
}

static void the_marks_stand_around_the_place(void **state)
{
    (void)state;
    assert_string_equal(shown_at("of \xe8\x97\x8d\xcc\x81\xe8\x97\x8d x", 3, 11),
                        "    written  of \xc2\xab\xe8\x97\x8d\xcc\x81\xe8\x97\x8d\xc2\xbb x");
    assert_string_equal(shown_at("\tx y \r\n", 1, 2), "    written  \xc2\xabx\xc2\xbb y");
    assert_string_equal(shown_at("a\tb", 2, 3), "    written  a    \xc2\xab"
                                                "b\xc2\xbb");
    /* An escape, a byte that is not UTF-8, a right-to-left override and a delete, each by one sign. */
    assert_string_equal(shown_at("\x1b[\xff\xe2\x80\xae\x7fx\r\n", 7, 8),
                        "    written  \xe2\x90\x9b[\xef\xbf\xbd\xef\xbf\xbd\xe2\x90\xa1\xc2\xabx\xc2\xbb");
    assert_string_equal(shown_at("band", 4, 4), "    written  band\xc2\xab\xc2\xbb");
    assert_string_equal(shown_at("a\n  \n", 4, 4), "    written  \xc2\xab\xc2\xbb");
    assert_string_equal(shown_at("band\n", 5, 5), "    written  \xc2\xab\xc2\xbb");
    /* Of a place over several lines the first is shown, and the last one named. */
    assert_string_equal(shown_at("band {\n}\n", 5, 8),
                        "    written  band \xc2\xab{...\xc2\xbb\n             down to line 2");
    assert_string_equal(shown_at("band\n}\n", 0, 5), "    written  \xc2\xab"
                                                     "band...\xc2\xbb");
}

/* What is about the whole file has no place in it. */
static void a_finding_about_the_file_shows_no_line(void **state)
{
    (void)state;
    Edit edit = {{0, 0, 0}, "edition 1\n"};
    assert_string_equal(rows_of("let a = 1\n", edit.span, "write `edition 1` as the first line", &edit),
                        "    mend     write `edition 1` as the first line\n"
                        "    write    edition 1\n"
                        "             let a = 1");
}

/* Text, a place as bytes, what is to be written there, the mend in words, and the rows that tell of them. */
static const struct {
    const char *text;
    uint32_t from, to;
    const char *edit, *mend, *rows;
} edited[] = {
    /* Words that say no more than the line are left out. */
    {"let a = 1", 8, 9, "2", "write `2`", "    write    let a = 2"},
    {"let a = 1", 8, 9, "2", "write 2", "    write    let a = 2"},
    {"let a = 1", 8, 9, "2", "write `3`", "    mend     write `3`\n    write    let a = 2"},
    {"let a = 1", 8, 9, "2", "write `23`", "    mend     write `23`\n    write    let a = 2"},
    {"let a = 1", 8, 9, "2", "Try a `2`", "    mend     Try a `2`\n    write    let a = 2"},
    {"{ let a = 1 }", 11, 11, ", b: 2", "write `b: 2`", "    write    { let a = 1, b: 2 }"},
    /* What goes, with its line and without. */
    {"{\n  a: 1\n}\n", 2, 9, "", "", "    write    (take the line out)"},
    {"{\n  a: 1\n}\n", 4, 8, "", "", "    write    (take the line out)"},
    {"{\r\n  a: 1\r\n}\r\n", 3, 11, "", "", "    write    (take the line out)"},
    {"{\n  a: 1\n  b: 2\n}\n", 2, 16, "", "", "    write    (take these lines out)"},
    {"  a: 1, b: 2", 6, 12, "", "", "    write    a: 1"},
    {"  a: 1 // b\n  c: 2\n", 6, 12, "", "", "    write    a: 1  c: 2"},
    /* Lines that come, before, after and between; other indents stay as they are beside the first one's. */
    {"  a\n  b\n", 4, 4, "  c\n", "", "    write    c\n             b"},
    {"  a\n  b\n", 3, 3, "\n  c {\n    d\n  }", "",
     "    write    a\n             c {\n               d\n             }"},
    {"  a b\n", 4, 5, "{\n\n c\n }\n d", "",
     "    write    a {\n             \n             c\n             }\n             ..."},
    {"  a\n  b\n  c\n", 4, 8, "  e\n  f\n", "", "    write    e\n             f"},
    {"  a\n  b\n  c\n", 3, 7, " e", "", "    write    a e"},
    {"  a\n  b\n", 8, 8, "c\n", "", "    write    c"},
    {"  a", 2, 3, "\x1b[2J", "", "    write    \xe2\x90\x9b[2J"},
};

static void the_lines_are_shown_as_they_will_be(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof edited / sizeof *edited; i++) {
        const Edit edit = {{edited[i].from, edited[i].to, 0}, edited[i].edit};
        const char *rows = rows_of(edited[i].text, edit.span, edited[i].mend, &edit);
        const char *below = strchr(rows, '\n') + 1;
        if (strncmp(below, "             down to", 20) == 0)
            below = strchr(below, '\n') + 1;
        assert_string_equal(below, edited[i].rows);
    }
}

/* An edit away from the finding's own line is shown where it is. */
static void an_edit_elsewhere_shows_its_line(void **state)
{
    (void)state;
    const Edit edit = {{7, 7, 0}, " loop: 4 turns"};
    assert_string_equal(rows_of("bench {}\nband\n", (Span){9, 13, 0}, "hold it", &edit),
                        "    written  \xc2\xab"
                        "band\xc2\xbb\n"
                        "    mend     hold it\n"
                        "    line 1   bench {\xc2\xab\xc2\xbb}\n"
                        "    write    bench { loop: 4 turns}");
}

/* Wherever the cut of a long line falls, before or after the place, it leaves whole characters. U+0301 and U+1AB0
 * take no column, so that as many bytes count as are looked at. */
static void a_long_line_is_cut_between_characters(void **state)
{
    (void)state;
    static const char *const characters[] = {"\xcc\x81", "\xe1\xaa\xb0", "\xc3\xa9", "\xe2\x82\xac",
                                             "\xf0\x9f\x94\xa5"};
    for (size_t which = 0; which < sizeof characters / sizeof *characters; which++)
        for (uint32_t before = 0; before < 4; before++) {
            char line[20100];
            uint32_t length = (uint32_t)snprintf(line, sizeof line, "%.*s", (int)before, "xxx");
            for (int i = 0; i < 5000; i++)
                length += (uint32_t)snprintf(line + length, sizeof line - length, "%s", characters[which]);
            uint32_t middle = before + 2500 * (uint32_t)strlen(characters[which]);
            assert_null(strstr(shown_at(line, 0, 1), "\xef\xbf\xbd"));
            assert_null(strstr(shown_at(line, middle, middle + 1), "\xef\xbf\xbd"));
        }
}

/* Every code point there is: a page shows a sign for it or the character itself. */
static void what_never_is_a_character_is_shown_by_a_sign(void **state)
{
    (void)state;
    static const utf8proc_int32_t hidden[] = {0x80,   0x9b,   0x9f,   0xad,   0x202a, 0x202e, 0x2060, 0x2066,
                                              0x2069, 0x206a, 0x2028, 0x2029, 0xfeff, 0xfff9, 0xe0041};
    static const utf8proc_int32_t kept[] = {'a',    0xa0,   0x5d0,  0x600,   0x61c,   0x6dd,   0x94d,  0x180b,
                                            0x180e, 0x200b, 0x200c, 0x200d,  0x200e,  0x200f,  0x20ac, 0xe000,
                                            0xfe0f, 0xfffd, 0x378,  0x1f525, 0x3fffd, 0x10fffd};
    utf8proc_uint8_t bytes[4];
    ShownCharacter shown;
    for (size_t i = 0; i < sizeof hidden / sizeof *hidden; i++) {
        size_t length = (size_t)utf8proc_encode_char(hidden[i], bytes);
        assert_int_equal(show_character((const char *)bytes, length, &shown), length);
        assert_string_equal(shown.text, "\xef\xbf\xbd");
    }
    for (size_t i = 0; i < sizeof kept / sizeof *kept; i++) {
        size_t length = (size_t)utf8proc_encode_char(kept[i], bytes);
        assert_int_equal(show_character((const char *)bytes, length, &shown), length);
        assert_int_equal(strlen(shown.text), length);
        assert_memory_equal(shown.text, bytes, length);
    }
    for (utf8proc_int32_t character = 0x80; character < 0x110000; character++) {
        if (character >= 0xd800 && character <= 0xdfff)
            continue;
        size_t length = (size_t)utf8proc_encode_char(character, bytes);
        assert_int_equal(show_character((const char *)bytes, length, &shown), length);
        bool low = (character & 0xffff) >= 0xfffe, in_block = character >= 0xfdd0 && character <= 0xfdef;
        if (low || in_block)
            assert_string_equal(shown.text, "\xef\xbf\xbd");
    }
}

static void a_message_sends_no_escape_to_the_terminal(void **state)
{
    (void)state;
    Sources sources = one_source("x\n");
    Findings findings;
    findings_start(&findings, &arena);
    Finding *finding = finding_add(&findings, FINDING_SYNTAX, (Span){0, 1, 0}, "saw \x1b[2J");
    finding_label(&findings, finding, "\a");
    finding_mend(&findings, finding, "\x9b");
    const char *text = report(&findings, &sources, false);
    assert_non_null(strstr(text, "saw \xe2\x90\x9b[2J ("));
    assert_null(strpbrk(text, "\x1b\a"));
    assert_non_null(strstr(text, "mend     \xef\xbf\xbd\n"));
}

/* A line of `length` letters with a place in the middle; both halves are cut off, the place stays in sight. */
static void check_cut(size_t length)
{
    char *text = arena_take(&arena, length + 1);
    memset(text, 'a', length);
    size_t middle = length / 2;
    memcpy(text + middle, "navy", 4);
    Edit edit = {{(uint32_t)middle, (uint32_t)middle + 4, 0}, "foam"};
    char before[41] = {0}, after[57] = {0};
    memset(before, 'a', 40);
    memset(after, 'a', 56);
    const char *rows = text_format(&arena,
                                   "    written  ...%s\xc2\xabnavy\xc2\xbb%s...\n"
                                   "    write    ...%s"
                                   "foam%s...",
                                   before, after, before, after);
    assert_string_equal(rows_of(text, edit.span, "", &edit), rows);
}

static void a_long_line_is_cut_around_the_place(void **state)
{
    (void)state;
    check_cut(300);
    check_cut(100000);
    /* A place that is too long itself ends where the line is cut. */
    char hundred[102] = {0}, *text = arena_take(&arena, 3000);
    memset(hundred, 'b', 100);
    memset(text, 'b', 2999);
    assert_string_equal(shown_at(text, 0, 2000),
                        text_format(&arena, "    written  \xc2\xab%s...\xc2\xbb", hundred));
    /* 100 columns are shown whole; signs two columns wide count as two. */
    assert_null(strstr(shown_at(hundred, 50, 51), "..."));
    hundred[100] = 'b';
    assert_non_null(strstr(shown_at(hundred, 50, 51), "..."));
    Buffer wide;
    buffer_start(&wide, &arena);
    for (int i = 0; i < 51; i++)
        buffer_text(&wide, "\xe8\x97\x8d");
    const char *signs = text_of_buffer(&wide), *shown = shown_at(signs, 0, 3);
    assert_int_equal(text_columns(shown), 13 + 2 + 100 + 3);
    assert_null(strstr(shown_at(text_format(&arena, "%.*s", 150, signs), 0, 3), "..."));
    /* So is a long line that comes after what is new. */
    Edit edit = {{0, 0, 0}, "c\n"};
    hundred[99] = 0;
    assert_string_equal(rows_of(text, edit.span, "", &edit),
                        text_format(&arena, "    write    c\n             %sb...", hundred));
}

static json_t *parse(Buffer *out)
{
    json_error_t error;
    json_t *json = json_loadb(out->bytes, out->length, JSON_REJECT_DUPLICATES, &error);
    if (!json)
        fail_msg("%d: %s", error.line, error.text);
    return json;
}

/* "rods.0.title": the value there. */
static json_t *at(json_t *json, const char *path)
{
    for (const char *dot; *path; path = *dot ? dot + 1 : dot) {
        dot = strchrnul(path, '.');
        const char *name = text_format(&arena, "%.*s", (int)(dot - path), path);
        json = json_is_array(json) ? json_array_get(json, (size_t)atoi(name)) : json_object_get(json, name);
        assert_non_null(json);
    }
    return json;
}

#define ASSERT_TEXT(json, path, text) assert_string_equal(json_string_value(at(json, path)), text)
#define ASSERT_WHOLE(json, path, whole) assert_int_equal(json_integer_value(at(json, path)), whole)
#define ASSERT_NUMBER(json, path, number) assert_true(json_number_value(at(json, path)) == (number))
#define ASSERT_NULL(json, path) assert_true(json_is_null(at(json, path)))

static void findings_as_json_hold_all_that_is_known(void **state)
{
    (void)state;
    const char *text = "a\nband \xe8\x97\x8d 0 turns\n";
    Sources sources = sources_of(&text, (const char *[]){"h\xff\"\\\n.lay"}, 1);
    Findings findings;
    findings_start(&findings, &arena);
    Finding *finding =
        finding_add(&findings, FINDING_LESS_THAN_A_TURN, span_of(&sources, 0, "0 turns"), "%s", "\x01\xc3");
    finding_relate(&findings, finding, (Span){0, 1, 0}, "r");
    finding_mend(&findings, finding, "m");
    finding_add(&findings, FINDING_DRIFT, (Span){0, 1, 0}, "d");
    finding_edit(&findings, finding, (Span){11, 12, 0}, "1");
    Buffer out;
    buffer_start(&out, &arena);
    emit_findings_json(&out, &findings, &sources, SHOW_ALL);
    json_t *json = parse(&out);
    ASSERT_TEXT(json, "format", "turnlay findings");
    ASSERT_WHOLE(json, "version", 1);
    ASSERT_TEXT(json, "findings.0.code", "T301");
    ASSERT_TEXT(json, "findings.0.severity", "error");
    ASSERT_TEXT(json, "findings.0.message", "\x01\xef\xbf\xbd");
    ASSERT_TEXT(json, "findings.0.at.file", "h\xef\xbf\xbd\"\\\n.lay");
    ASSERT_WHOLE(json, "findings.0.at.line", 2);
    ASSERT_WHOLE(json, "findings.0.at.column", 8);
    ASSERT_WHOLE(json, "findings.0.at.start", 11);
    ASSERT_WHOLE(json, "findings.0.at.end", 18);
    ASSERT_TEXT(json, "findings.0.related.0.label", "r");
    ASSERT_TEXT(json, "findings.0.edit.text", "1");
    assert_null(json_object_get(at(json, "findings.1"), "edit"));
    ASSERT_WHOLE(json, "errors", 1);
    ASSERT_WHOLE(json, "notes", 1);
    json_decref(json);
}

/* A plan as small as shows everything: a butt wrap in two layers and a guide's foot that is left out of the plan.
 */
static const char PLAN_SOURCE[] = "edition 1\n"
                                  "thread navy {}\n"
                                  "at 32 cm length: 40 mm {\n"
                                  "    under { band fill of navy }\n"
                                  "    over { band 1 mm of navy\n"
                                  "    fade to \xe8\x97\x8d steps: 2\n"
                                  "    gap 2 mm\n"
                                  "    band 3 turns of [navy, spacer(\xe8\x97\x8d)] }\n"
                                  "}\n"
                                  "guide ring {}\n";

typedef struct Sample {
    Sources sources;
    Texts texts;
    Job job;
    Thread navy, indigo;
    const Thread *threads[2];
    Strand strand_items[4];
    Strands only_navy, only_indigo, both;
    Blank blank;
    Guide guide;
    Layer under, over, foot;
    Item items[5];
    Place places[2];
    Rod rod;
    Run runs[8];
    double lengths[8][2];
    PlannedItem planned_items[5];
    PlannedLayer layers[3];
    PlannedPlace planned_places[2];
    Piece pieces[4];
    Supply supplies[2];
    PlannedRod planned_rod;
    Need needs[3], totals[2];
    Plan plan;
    BenchPlan bench;
    Findings findings;
} Sample;

static const Text *name_of(Sample *sample, const char *name) { return text_of_string(&sample->texts, name); }

static void make_job(Sample *sample)
{
    sample->sources = one_source(PLAN_SOURCE);
    texts_start(&sample->texts, &arena);
    const Sources *sources = &sample->sources;
    sample->navy = (Thread){.opacity = 1,
                            .code = name_of(sample, "=7"),
                            .name = name_of(sample, "navy"),
                            .span = span_of(sources, 0, "navy"),
                            .pitch = 0.15,
                            .diameter = 0.15,
                            .colour = 0x22346b,
                            .stock = 9000,
                            .spool = 1000,
                            .price = 4.5,
                            .width_source = WIDTH_NOMINAL};
    sample->indigo = (Thread){.opacity = 1,
                              .name = name_of(sample, "\xe8\x97\x8d"),
                              .pitch = 0.2,
                              .diameter = 0.2,
                              .stock = 1000,
                              .spool = NAN,
                              .price = 3,
                              .index = 1};
    sample->threads[0] = &sample->navy;
    sample->threads[1] = &sample->indigo;
    Strand *strand = sample->strand_items;
    strand[0] = strand[2] = (Strand){&sample->navy, false};
    strand[1] = (Strand){&sample->indigo, false};
    strand[3] = (Strand){&sample->indigo, true};
    sample->only_navy = (Strands){strand, 1, 0.15, 0.15};
    sample->only_indigo = (Strands){strand + 1, 1, 0.2, 0.2};
    sample->both = (Strands){strand + 2, 2, 0.35, 0.15};
    sample->blank = (Blank){.name = name_of(sample, "inshore")};
    sample->guide = (Guide){.name = name_of(sample, "ring"), .foot_count = 1};
    sample->under = (Layer){.span = span_of(sources, 0, "under")};
    sample->over = (Layer){.over = true, .span = span_of(sources, 0, "over")};
    sample->foot = (Layer){.over = true, .cause = 1};
    sample->items[0] = (Item){.kind = ITEM_BAND, .span = span_of(sources, 0, "band fill of navy")};
    sample->items[1] = (Item){.kind = ITEM_BAND, .span = span_of(sources, 0, "band 1 mm of navy")};
    sample->items[2] = (Item){.kind = ITEM_FADE,
                              .span = span_of(sources, 0, "fade to"),
                              .strands = &sample->only_indigo,
                              .from = &sample->only_navy};
    sample->items[3] = (Item){.kind = ITEM_GAP, .span = span_of(sources, 0, "gap 2 mm")};
    sample->items[4] = (Item){.kind = ITEM_BAND, .span = span_of(sources, 0, "band 3 turns")};
    sample->places[0] = (Place){.span = span_of(sources, 0, "at 32 cm"), .mark = 320};
    sample->places[1] = (Place){.mark = 1500, .guide = &sample->guide};
    sample->rod = (Rod){.title = name_of(sample, "Harbour, \"two\""), .blank = &sample->blank};
    sample->job = (Job){.about = {.title = name_of(sample, "Harbour")},
                        .threads = sample->threads,
                        .thread_count = 2,
                        .rods = &sample->rod,
                        .rod_count = 1,
                        .pattern_hash = 0x3f2a91bc07de0001u,
                        .sources = &sample->sources,
                        .lines = line_map_make(&arena, sources),
                        .bench = {.units = SYSTEM_MM, .coat = 0.25, .coats = 2, .speed = 60, .handling = 90}};
}

/* Runs of the upper layer: 7 navy, in 1 and out 2, in 2 and out 1, 2 mm left bare, 3 of both. */
static void make_runs(Sample *sample)
{
    static const struct {
        int item;
        RunRole role;
        uint32_t turns;
        double width;
    } rows[] = {{1, RUN_BAND, 7, 1.05},   {2, RUN_FADE_IN, 1, 0.2},   {2, RUN_FADE_OUT, 2, 0.3},
                {2, RUN_FADE_IN, 2, 0.4}, {2, RUN_FADE_OUT, 1, 0.15}, {3, RUN_GAP, 0, 2},
                {4, RUN_BAND, 3, 1.05}};
    const Strands *strands[] = {&sample->only_navy,   &sample->only_indigo, &sample->only_navy,
                                &sample->only_indigo, &sample->only_navy,   NULL,
                                &sample->both};
    sample->runs[0] = (Run){.strands = &sample->only_navy,
                            .turns = 266,
                            .pitch = sample->only_navy.pitch,
                            .start = 320,
                            .end = 359.9,
                            .start_diameter = 12,
                            .end_diameter = 11.9,
                            .lengths = sample->lengths[0],
                            .span = sample->items[0].span};
    sample->lengths[0][0] = 10000.12345678;
    double x = 320;
    for (int i = 0; i < 7; i++) {
        double *lengths = sample->lengths[i + 1];
        lengths[0] = lengths[1] = 38 * rows[i].turns;
        sample->runs[i + 1] = (Run){.strands = strands[i],
                                    .role = rows[i].role,
                                    .turns = rows[i].turns,
                                    .pitch = strands[i] ? strands[i]->pitch : 0,
                                    .start = x,
                                    .item = (uint32_t)rows[i].item - 1,
                                    .end = x + rows[i].width,
                                    .start_diameter = 12.3,
                                    .end_diameter = 12.3,
                                    .lengths = lengths,
                                    .span = sample->items[rows[i].item].span};
        x += rows[i].width;
    }
}

static void make_layers(Sample *sample)
{
    const Item *items = sample->items;
    PlannedItem *planned = sample->planned_items;
    planned[0] = (PlannedItem){items, 0, 1, 266, 0, NAN, 39.9, NULL, NULL, 0};
    planned[1] = (PlannedItem){items + 1, 0, 1, 7, 0, 1, 1.05, NULL, NULL, 0};
    planned[2] = (PlannedItem){items + 2, 1, 4, 6, 0, NAN, 1.05, &sample->only_navy, &sample->only_indigo, 0};
    planned[3] = (PlannedItem){items + 3, 5, 1, 0, 0, 2, 2, NULL, NULL, 0};
    planned[4] = (PlannedItem){items + 4, 6, 1, 3, 0, NAN, 1.05, NULL, NULL, 0};
    sample->layers[0] = (PlannedLayer){.layer = &sample->under,
                                       .laid = true,
                                       .start = 320,
                                       .end = 359.9,
                                       .length = 40,
                                       .width = 39.9,
                                       .unfilled = 0.1,
                                       .runs = sample->runs,
                                       .run_count = 1,
                                       .items = planned,
                                       .item_count = 1,
                                       .turns = 266};
    sample->layers[1] = (PlannedLayer){.layer = &sample->over,
                                       .laid = true,
                                       .start = 320,
                                       .end = 325.15,
                                       .length = 40,
                                       .width = 5.15,
                                       .unfilled = NAN,
                                       .runs = sample->runs + 1,
                                       .run_count = 7,
                                       .items = planned + 1,
                                       .item_count = 4,
                                       .turns = 16};
    sample->layers[2] = (PlannedLayer){.layer = &sample->foot, .length = NAN, .unfilled = NAN};
    sample->planned_places[0] =
        (PlannedPlace){&sample->places[0], -1, 1, 320, 40, NAN, NAN, NAN, NULL, sample->layers, 2, 0};
    sample->planned_places[1] =
        (PlannedPlace){&sample->places[1], 0, -1, 1523, 23, 1520, 1500, 1514, NULL, sample->layers + 2, 1, 0};
}

static Sample *make_sample(void)
{
    Sample *sample = arena_take(&arena, sizeof *sample);
    make_job(sample);
    make_runs(sample);
    make_layers(sample);
    sample->pieces[0] = (Piece){.thread = &sample->navy,
                                .last_run = 4,
                                .layer = 1,
                                .end_turn = 13,
                                .turns = 10,
                                .by_hand = true,
                                .wound = 380,
                                .tags = 1.8,
                                .beneath = 0.6,
                                .free = 300,
                                .span = sample->items[1].span};
    sample->planned_rod = (PlannedRod){.rod = &sample->rod,
                                       .places = sample->planned_places,
                                       .place_count = 2,
                                       .pieces = sample->pieces,
                                       .piece_count = 4,
                                       .hand_turns = 7};
    sample->pieces[1] = sample->pieces[0];
    sample->pieces[1].wound = 10114;
    sample->pieces[1].free = 301.2;
    sample->pieces[2] = sample->pieces[3] =
        (Piece){.thread = &sample->indigo, .layer = 1, .wound = 114, .free = 500, .span = sample->items[1].span};
    sample->supplies[0] = (Supply){3, 13.5, 1, &sample->pieces[1]};
    sample->supplies[1] = (Supply){NAN, NAN, 0, &sample->pieces[2]};
    sample->needs[0] = (Need){&sample->navy, 0, 0, 2, 279, 10494, 606, 0};
    sample->needs[1] = (Need){&sample->indigo, 0, 0, 2, 6, 228, 1000, 0};
    sample->totals[0] = sample->needs[0];
    sample->totals[1] = sample->needs[1];
    sample->totals[0].rod = sample->totals[0].place = sample->totals[1].rod = sample->totals[1].place = NEED_ALL;
    sample->plan = (Plan){.job = &sample->job,
                          .rods = &sample->planned_rod,
                          .rod_count = 1,
                          .needs = sample->needs,
                          .need_count = 2,
                          .totals = sample->totals,
                          .total_count = 2,
                          .supplies = sample->supplies,
                          .turns = 282,
                          .finish_volume = 395.8};
    sample->bench = (BenchPlan){.plan = &sample->plan, .minutes = 10.7};
    findings_start(&sample->findings, &arena);
    return sample;
}

static const char *plan_text(const Plan *plan)
{
    Buffer out;
    buffer_start(&out, &arena);
    emit_plan_text(&out, plan);
    return text_of_buffer(&out);
}

static void the_schedule_says_where_every_turn_lies(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    const char *text = plan_text(&sample->plan);
    assert_non_null(strstr(text, "file id   3f2a-91bc-07de, edition 1\n"));
    assert_non_null(strstr(text, "cut away from the\n  blank"));
    assert_string_equal(
        strstr(text, "\nRod:"),
        "\nRod: Harbour, \"two\", on inshore\n"
        "===============================\n"
        "\n"
        "320 mm from the butt, toward the tip\n"
        "------------------------------------\n"
        "Mark: 320 mm from the butt. Positions count from it toward the tip.\n"
        "\n"
        "Layer 1 of 2 (underwrap)\n"
        " line  thread             as        turns   count  from, mm    to, mm width, mm\n"
        "    4  navy               band        266     266      0.00     39.90     39.90\n"
        "       266 turns in all, 39.90 mm wide of 40.00 mm; 0.10 mm stays bare\n"
        "\n"
        "Layer 2 of 2 (overwrap)\n"
        " line  thread             as        turns   count  from, mm    to, mm width, mm\n"
        "    5  navy               band          7       7      0.00      1.05      1.05\n"
        "       asked for 1.00 mm, gets 1.05 mm, 0.05 mm more\n"
        "       fade from navy to \xe8\x97\x8d: in 1, out 2; in 2, out 1\n"
        "    6  \xe8\x97\x8d                 fade in       1       8      1.05      1.25      0.20\n"
        "    6  navy               fade out      2      10      1.25      1.55      0.30\n"
        "    6  \xe8\x97\x8d                 fade in       2      12      1.55      1.95      0.40\n"
        "    6  navy               fade out      1      13      1.95      2.10      0.15\n"
        "    7                     gap                  13      2.10      4.10      2.00\n"
        "    8  navy + spacer \xe8\x97\x8d   band          3      16      4.10      5.15      1.05\n"
        "       16 turns in all, 5.15 mm wide\n"
        "\n"
        "ring at 1500 mm from the butt\n"
        "-----------------------------\n"
        "Mark: 1523 mm from the butt. Positions count from it toward the butt.\n"
        "Foot: tip at 3.00 mm, full height from 9.00 mm, inner end at 23.00 mm.\n"
        "\n"
        "Layer 1 of 1 (wrap): left out, see the findings\n"
        "\n"
        "282 turns in all.\n");
}

/* The layer of the sample with the fade, worked back to front: every page says what the plan says of it. */
static void a_mirrored_fade_is_told_as_the_plan_has_it(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    sample->items[2].reversed = true;
    for (int i = 2; i < 6; i++)
        sample->runs[i].role = i % 2 ? RUN_FADE_IN : RUN_FADE_OUT;
    sample->planned_items[2].from = &sample->only_indigo;
    sample->planned_items[2].to = &sample->only_navy;
    assert_non_null(strstr(plan_text(&sample->plan), "fade from \xe8\x97\x8d to navy: out 1; in 2, out 2; in 1\n"
                                                     "    6  \xe8\x97\x8d                 fade out"));
    Buffer out;
    buffer_start(&out, &arena);
    emit_plan_json(&out, &sample->bench, &sample->findings);
    json_t *json = parse(&out);
    ASSERT_TEXT(json, "rods.0.places.0.layers.1.runs.1.role", "fade out");
    ASSERT_TEXT(json, "rods.0.places.0.layers.1.runs.2.role", "fade in");
    json_decref(json);
    buffer_start(&out, &arena);
    emit_plan_csv(&out, &sample->plan);
    buffer_put(&out, "", 1);
    assert_non_null(strstr(out.bytes, ",fade out,\xe8\x97\x8d,1,"));
    assert_non_null(strstr(out.bytes, ",fade in,navy,2,"));
}

/* Threads whose names are too wide for their column stand on a line of their own. */
static void no_line_is_wider_than_the_page(void **state)
{
    (void)state;
    for (UnitSystem units = SYSTEM_MM; units < SYSTEM_COUNT; units++) {
        Sample *sample = make_sample();
        sample->job.bench.units = units;
        for (const char *line = plan_text(&sample->plan), *next; *line; line = next + 1) {
            next = strchr(line, '\n');
            const char *alone = text_format(&arena, "%.*s", (int)(next - line), line);
            if (text_columns(alone) > 80)
                fail_msg("%s", alone);
        }
    }
}

static void inches_are_also_as_on_a_ruler(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    sample->job.bench.units = SYSTEM_IN;
    sample->runs[0].end = 320 + 25.4 * 1.625;
    const char *text = plan_text(&sample->plan);
    assert_non_null(strstr(text,
                           " line  thread         as       turns  count from, in  to, in    ruler width, in\n"
                           "    4  navy           band       266    266    0.000   1.625    1 5/8     1.625\n"));
    assert_non_null(strstr(text,
                           "\n    8  navy + spacer \xe8\x97\x8d\n"
                           "                      band         3     16    0.161   0.203    13/64     0.042\n"));
}

static void lines_of_other_files_carry_the_file_s_number(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    *LIST_ADD(&arena, &sample->sources.list) = (Source){"trims.lay", "std/trims", "\nband\n", 6};
    sample->sources.pattern_files = 2;
    sample->job.lines = line_map_make(&arena, &sample->sources);
    sample->runs[0].span = (Span){1, 5, 1};
    const char *text = plan_text(&sample->plan);
    assert_non_null(strstr(text, "files     1  harbour.lay\n          2  trims.lay\n"));
    assert_non_null(strstr(text, "\n  2:2  navy "));
}

static void the_plan_as_json(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    finding_add(&sample->findings, FINDING_DRIFT, (Span){0, 1, 0}, "d");
    Buffer out;
    buffer_start(&out, &arena);
    emit_plan_json(&out, &sample->bench, &sample->findings);
    json_t *json = parse(&out);
    ASSERT_TEXT(json, "format", "turnlay plan");
    ASSERT_TEXT(json, "file_id", "3f2a-91bc-07de"); /* as on every page */
    ASSERT_TEXT(json, "about.title", "Harbour");
    ASSERT_NULL(json, "about.author");
    ASSERT_TEXT(json, "sources.0.path", "harbour.lay");
    ASSERT_TEXT(json, "threads.0.colour", "#22346b");
    ASSERT_TEXT(json, "threads.0.width_from", "size");
    ASSERT_TEXT(json, "rods.0.title", "Harbour, \"two\"");
    ASSERT_TEXT(json, "rods.0.places.0.toward", "tip");
    ASSERT_NULL(json, "rods.0.places.0.foot_tip_mm");
    ASSERT_WHOLE(json, "rods.0.places.1.foot", 0);
    assert_true(json_is_false(at(json, "rods.0.places.1.layers.0.laid")));
    ASSERT_NUMBER(json, "rods.0.places.0.layers.0.runs.0.strands.0.wound_mm", 10000.123457);
    ASSERT_NUMBER(json, "rods.0.places.0.layers.1.items.0.error_mm", 0.05);
    ASSERT_NULL(json, "rods.0.places.0.layers.1.items.1.asked_mm");
    ASSERT_TEXT(json, "rods.0.places.0.layers.1.runs.3.role", "fade in");
    ASSERT_WHOLE(json, "rods.0.places.0.layers.1.runs.3.turns_done", 12);
    ASSERT_NUMBER(json, "rods.0.places.0.layers.1.runs.3.from_mm", 1.55);
    ASSERT_NUMBER(json, "rods.0.places.0.layers.1.runs.3.end_mm", 321.95);
    ASSERT_WHOLE(json, "rods.0.places.0.layers.1.runs.3.at.line", 6);
    ASSERT_WHOLE(json, "rods.0.places.0.layers.1.runs.3.at.column", 5);
    assert_int_equal(json_array_size(at(json, "rods.0.places.0.layers.1.runs.5.strands")), 0);
    assert_true(json_is_true(at(json, "rods.0.places.0.layers.1.runs.6.strands.1.spacer")));
    ASSERT_NUMBER(json, "rods.0.pieces.0.cut_mm", 682.4);
    ASSERT_WHOLE(json, "turns", 282);
    ASSERT_NUMBER(json, "finish_ml", 0.3958);
    ASSERT_TEXT(json, "findings.0.code", "T504");
    json_decref(json);
}

/* Numbers that JSON cannot say become null, and the rest stays JSON however large. */
static void json_holds_no_number_that_is_none(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    sample->pieces[0].wound = INFINITY;
    sample->pieces[2].wound = 1e12 - sample->pieces[3].wound;
    Buffer out;
    buffer_start(&out, &arena);
    emit_need_json(&out, &sample->bench);
    json_t *json = parse(&out);
    ASSERT_NULL(json, "threads.0.wound_mm");
    ASSERT_NUMBER(json, "threads.1.wound_mm", 1e12);
    json_decref(json);
}

static void the_plan_as_csv(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    Buffer out;
    buffer_start(&out, &arena);
    emit_plan_csv(&out, &sample->plan);
    const char *text = text_of_buffer(&out);
    assert_memory_equal(text, "rod,place,layer,kind,run,item,role,thread,turns,", 48);
    assert_non_null(strstr(text, "\r\n\"Harbour, \"\"two\"\"\",\"320 mm from the butt, toward the tip\","
                                 "0,under,0,0,band,navy,266,266,"
                                 "320,359.9,0,39.9,12,11.9,10000.123457,harbour.lay,4,13,0\r\n"));
    assert_non_null(strstr(text, ",1,over,5,2,gap,,0,13,322.1,324.1,2.1,4.1,12.3,12.3,,harbour.lay,7,5,0\r\n"));
    assert_non_null(strstr(text, ",band,navy + spacer \xe8\x97\x8d,3,16,324.1,325.15,4.1,5.15,12.3,12.3,"
                                 "114 + 114,harbour.lay,8,5,0\r\n"));
}

static void the_needs_as_text(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    Buffer out;
    buffer_start(&out, &arena);
    emit_need_text(&out, &sample->bench);
    static const char needs[] =
        "thread                pieces     turns        wound   tags, ends       in all\n"
        "navy                       2       279      10.51 m       0.60 m      11.11 m\n"
        "  maker's code: =7\n"
        "  1 piece is longer than a spool: a longer one is needed for it\n"
        "  to buy beside that: 3 spools of 1.00 m, cost 13.50\n"
        "  in stock: 9.00 m, 2.11 m short\n"
        "\xe8\x97\x8d                         2         6       0.24 m       1.00 m       1.24 m\n"
        "  in stock: 1.00 m, 0.24 m short\n"
        "cost in all: 13.50, without 1 thread of which no `price:` is known "
        "and 1 piece\nlonger than a spool\n"
        "\n"
        "Rod: Harbour, \"two\"\n"
        "===================\n"
        "320 mm from the butt, toward the tip\n"
        "------------------------------------\n"
        "navy                       2       279      10.51 m       0.60 m      11.11 m\n"
        "\xe8\x97\x8d                         2         6       0.24 m       1.00 m       1.24 m\n"
        "\n"
        "Finish, estimated: 0.4 ml for 2 coats, each 0.250 mm thick, over all wraps.\n"
        "Bench time, estimated: 11 minutes, at 60 turns a minute and 90 seconds\n"
        "each time a thread is laid in, taken up or ended.\n"
        "Marking, measuring, drying and curing are left out.\n"
        "\n"
        "prefer                pieces    ends   by hand    not wound          time\n"
        "ends (this plan)           4       8         7       1.60 m    11 minutes\n";
    const char *text = strstr(text_of_buffer(&out), "thread ");
    assert_memory_equal(text, needs, sizeof needs - 1);
    assert_ptr_equal(strstr(text, "time      "), text + sizeof needs - 1);
    assert_string_equal(strstr(text, "Turns by hand "),
                        "Turns by hand go round the still blank; not wound are tags, ends and what runs\n"
                        "under others. Choose with bench { prefer: }.\n");
}

static void bench_time_in_hours(void **state)
{
    (void)state;
    static const struct {
        double minutes;
        const char *words;
    } times[] = {{0.6, ": 1 minute, at "},
                 {89.4, ": 89 minutes, at "},
                 {89.6, ": 1 h 30 min, at "},
                 {548.7, ": 9 h 9 min, at "},
                 {119.7, ": 2 h 0 min, at "}};
    Sample *sample = make_sample();
    for (size_t i = 0; i < sizeof times / sizeof *times; i++) {
        Buffer out;
        buffer_start(&out, &arena);
        sample->bench.minutes = times[i].minutes;
        emit_need_text(&out, &sample->bench);
        assert_non_null(strstr(text_of_buffer(&out), times[i].words));
    }
}

/* Without coats no finish is spoken of. */
static void no_finish_without_coats(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    Buffer out;
    buffer_start(&out, &arena);
    sample->job.bench.coats = 0;
    emit_need_text(&out, &sample->bench);
    assert_null(strstr(text_of_buffer(&out), "Finish"));
    assert_non_null(strstr(text_of_buffer(&out), "Bench time"));
}

static void the_needs_as_json_and_csv(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    Buffer out;
    buffer_start(&out, &arena);
    emit_need_json(&out, &sample->bench);
    json_t *json = parse(&out);
    ASSERT_TEXT(json, "format", "turnlay need");
    ASSERT_NUMBER(json, "threads.0.total_mm", 11100);
    ASSERT_NUMBER(json, "threads.0.spools", 3);
    ASSERT_NUMBER(json, "threads.0.too_long", 1);
    ASSERT_NUMBER(json, "threads.0.cost", 13.5);
    ASSERT_NUMBER(json, "threads.1.left_mm", -228);
    ASSERT_NULL(json, "threads.1.cost");
    ASSERT_TEXT(json, "places.1.thread", "\xe8\x97\x8d");
    ASSERT_TEXT(json, "threads.0.code", "=7");
    assert_null(json_object_get(json_array_get(json_object_get(json, "threads"), 1), "code"));
    json_decref(json);
    buffer_start(&out, &arena);
    emit_need_csv(&out, &sample->plan);
    /* The start of a place's line, and what each line says. */
#define IN_PLACE "place,\"Harbour, \"\"two\"\"\",\"320 mm from the butt, toward the tip\","
    assert_string_equal(text_of_buffer(&out),
                        "scope,rod,place,thread,pieces,turns,wound_mm,ends_mm,total_mm,"
                        "spool_mm,spools,too_long,price,cost,stock_mm,left_mm,code\r\n"
                        "all,,,navy,2,279,10494,606,11100,1000,3,1,4.5,13.5,9000,-2100,'=7\r\n"
                        "all,,,\xe8\x97\x8d,2,6,228,1000,1228,,,0,3,,1000,-228,\r\n" IN_PLACE
                        "navy,2,279,10494,606,11100,,,,,,,,\r\n" IN_PLACE
                        "\xe8\x97\x8d,2,6,228,1000,1228,,,,,,,,\r\n");
}

/* All pages, with each request for memory failing in turn: control comes back by the trap, until all is well. */
static void memory_running_out_is_survived(void **state)
{
    (void)state;
    Sample *sample = make_sample();
    volatile uint64_t failures = 0;
    for (volatile bool done = false; !done;) {
        Trap small = {.fail_at = failures + 1};
        Arena pages;
        arena_start(&pages, &small);
        if (setjmp(*trap_set(&small)) == 0) {
            Buffer out;
            buffer_start(&out, &pages);
            for (int i = 0; i < 20; i++) {
                emit_plan_text(&out, &sample->plan);
                emit_plan_json(&out, &sample->bench, &sample->findings);
                emit_need_csv(&out, &sample->plan);
            }
            done = true;
        } else {
            failures++;
        }
        arena_end(&pages);
    }
    assert_true(failures > 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
#define TEST(name) cmocka_unit_test_setup_teardown(name, start, end)
        TEST(a_place_is_found_as_by_counting),
        TEST(a_finding_shows_its_places_and_its_mend),
        TEST(a_place_in_another_file_is_named),
        TEST(places_in_one_line_share_it),
        TEST(the_marks_stand_around_the_place),
        TEST(a_finding_about_the_file_shows_no_line),
        TEST(the_lines_are_shown_as_they_will_be),
        TEST(an_edit_elsewhere_shows_its_line),
        TEST(a_long_line_is_cut_between_characters),
        TEST(what_never_is_a_character_is_shown_by_a_sign),
        TEST(a_message_sends_no_escape_to_the_terminal),
        TEST(a_long_line_is_cut_around_the_place),
        TEST(findings_as_json_hold_all_that_is_known),
        TEST(the_schedule_says_where_every_turn_lies),
        TEST(a_mirrored_fade_is_told_as_the_plan_has_it),
        TEST(no_line_is_wider_than_the_page),
        TEST(inches_are_also_as_on_a_ruler),
        TEST(lines_of_other_files_carry_the_file_s_number),
        TEST(the_plan_as_json),
        TEST(json_holds_no_number_that_is_none),
        TEST(the_plan_as_csv),
        TEST(the_needs_as_text),
        TEST(bench_time_in_hours),
        TEST(no_finish_without_coats),
        TEST(the_needs_as_json_and_csv),
        TEST(memory_running_out_is_survived),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
