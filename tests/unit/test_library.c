/* The library's entries: what each answers where it is called wrongly, and what it tells of a compilation. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "base/limits.h"
#include "compilation.h"
#include "words/step_letters.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HEAD                                                                                                      \
    "edition 1\n"                                                                                                 \
    "thread navy { turns: 67 per cm }\n"                                                                          \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"

static const char good[] = HEAD "rod \"One\" on tube { at 20 cm { band 400 turns of navy } }\n"
                                "rod \"Two\" on tube { at 20 cm length: 5 cm {\n"
                                "    diamond crossings: 3 ends: 12 turns of navy { strand 3 of navy } } }\n";
static const char faulty[] = HEAD "rod \"One\" on tube { at 20 cm { band 40 turns of nvay } }\n";
static const char wanting[] = "edition 1\nuse \"trims\"\nuse \"more\"\n";

static Compilation *given(const char *text)
{
    Compilation *compilation = turnlay_new();
    assert_non_null(compilation);
    assert_int_equal(turnlay_give(compilation, "test.lay", text, strlen(text)), TURNLAY_DONE);
    return compilation;
}

static Compilation *finished(const char *text, TurnlayStatus expected)
{
    Compilation *compilation = given(text);
    assert_null(turnlay_want(compilation).path);
    assert_int_equal(turnlay_finish(compilation), expected);
    return compilation;
}

/* --- every entry by number, called as it should be but for the compilation --- */

typedef enum {
    GIVE,
    LEND,
    WANT,
    REFUSE,
    SWAP,
    MEASURE,
    MISHAP,
    RECORD,
    LEARN_FROM,
    STRICT,
    FINISH,
    EXPECT_ROD,
    SUMMARY,
    FINDING,
    LOST,
    ROD,
    SECTION,
    SHOW_SECTION,
    SHOW_BETWEEN,
    WRITE_FINDINGS,
    WRITE_PLAN,
    WRITE_NEED,
    WRITE_SHEET,
    WRITE_DRAWING,
    WRITE_TEMPLATE,
    WRITE_SHADES,
    WRITE_SHADES_DRAWING,
    WRITE_KEPT,
    WRITE_GATHERED,
    ENTRY_COUNT
} Entry;

/* With `spoilt`, one of the pointers is NULL that must not be. */
static TurnlayStatus call(Entry entry, Compilation *compilation, bool spoilt, TurnlayText *text)
{
    TurnlaySummary summary;
    TurnlayFinding finding;
    TurnlayPlace place;
    TurnlayRod rod;
    TurnlaySection section;
    uint32_t left;
    TurnlayText *page = spoilt ? NULL : text;
    switch (entry) {
    case GIVE: return turnlay_give(compilation, "a.lay", spoilt ? NULL : "edition 1\n", 10);
    case LEND: return turnlay_lend(compilation, "a.lay", spoilt ? NULL : "edition 1\n", 10);
    case WANT: return turnlay_want(compilation).status;
    case REFUSE: return turnlay_refuse(compilation, "a.lay", TURNLAY_FILE_NOT_FOUND, spoilt ? NULL : "nowhere");
    case SWAP: return turnlay_swap(compilation, "navy", spoilt ? NULL : "#123456");
    case MEASURE: return turnlay_measure(compilation, (TurnlayMeasured){.step = 1, .width = 5});
    case MISHAP: return turnlay_mishap(compilation, (TurnlayMishap){.step = 1});
    case RECORD: return turnlay_record(compilation, "r.json", spoilt ? NULL : "{}", 2);
    case LEARN_FROM: return turnlay_learn_from(compilation, spoilt ? NULL : "r.json", "{}", 2);
    case STRICT: return turnlay_strict(compilation);
    case FINISH: return turnlay_finish(compilation);
    case EXPECT_ROD: return turnlay_expect_rod(compilation, TURNLAY_NOTE);
    case SUMMARY: return turnlay_summary(compilation, spoilt ? NULL : &summary);
    case FINDING: return turnlay_finding(compilation, 0, spoilt ? NULL : &finding);
    case LOST: return turnlay_lost(compilation, spoilt ? NULL : &place);
    case ROD: return turnlay_rod(compilation, 0, spoilt ? NULL : &rod);
    case SECTION: return turnlay_section(compilation, 0, 0, spoilt ? NULL : &section);
    case SHOW_SECTION: return turnlay_show_section(compilation, NULL);
    case SHOW_BETWEEN: return turnlay_show_between(compilation, spoilt ? "navy" : NULL, NULL);
    case WRITE_FINDINGS: return turnlay_write_findings(compilation, TURNLAY_TEXT, page);
    case WRITE_PLAN: return turnlay_write_plan(compilation, TURNLAY_TEXT, page);
    case WRITE_NEED: return turnlay_write_need(compilation, TURNLAY_TEXT, page);
    case WRITE_SHEET: return turnlay_write_sheet(compilation, TURNLAY_TEXT, 1, page);
    case WRITE_DRAWING: return turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, 1, NAN, page);
    case WRITE_TEMPLATE: return turnlay_write_template(compilation, 1, page);
    case WRITE_SHADES: return turnlay_write_shades(compilation, TURNLAY_TEXT, page);
    case WRITE_SHADES_DRAWING: return turnlay_write_shades_drawing(compilation, page);
    case WRITE_KEPT: return turnlay_write_kept(compilation, page, &left);
    default: return turnlay_write_gathered(compilation, page);
    }
}

static bool takes_a_pointer(Entry entry)
{
    return entry != WANT && entry != MEASURE && entry != MISHAP && entry != STRICT && entry != FINISH
           && entry != EXPECT_ROD && entry != SHOW_SECTION;
}

static void assert_answers(Entry entry, Compilation *compilation, TurnlayStatus expected)
{
    char old;
    TurnlayText page = {&old, 77}; /* what it holds before is not looked at */
    TurnlayStatus status = call(entry, compilation, false, &page);
    if (status != expected)
        fail_msg("entry %d answers %s, not %s", entry, turnlay_status_words(status),
                 turnlay_status_words(expected));
    /* No entry leaves a trap behind that leads into its frame, nor what a page was made in. */
    if (compilation) {
        assert_false(compilation->trap.set);
        assert_null(compilation->page_arena.blocks);
    }
    if (entry < WRITE_FINDINGS)
        return;
    assert_true((status == TURNLAY_DONE) == (page.bytes != NULL));
    if (status == TURNLAY_DONE)
        assert_int_equal(page.bytes[page.length], 0);
    else
        assert_int_equal(page.length, 0);
    turnlay_text_free(&page);
    assert_null(page.bytes);
}

static void null_is_answered(void **state)
{
    (void)state;
    Compilation *compilation = finished(good, TURNLAY_DONE), *fresh = turnlay_new();
    TurnlayText page;
    for (Entry entry = 0; entry < ENTRY_COUNT; entry++) {
        assert_answers(entry, NULL, TURNLAY_NULL_GIVEN);
        if (takes_a_pointer(entry))
            assert_int_equal(call(entry, entry <= SWAP ? fresh : compilation, true, &page), TURNLAY_NULL_GIVEN);
    }
    assert_int_equal(turnlay_give(fresh, NULL, "", 0), TURNLAY_NULL_GIVEN);
    assert_int_equal(turnlay_lend(fresh, NULL, "", 0), TURNLAY_NULL_GIVEN);
    assert_int_equal(turnlay_lend(fresh, "empty.lay", NULL, 0), TURNLAY_NULL_GIVEN);
    assert_int_equal(turnlay_refuse(fresh, NULL, TURNLAY_FILE_NOT_FOUND, "nowhere"), TURNLAY_NULL_GIVEN);
    assert_int_equal(turnlay_give(fresh, "empty.lay", NULL, 0), TURNLAY_DONE);
    turnlay_free(fresh);
    turnlay_free(compilation);
    turnlay_free(NULL);
    turnlay_text_free(NULL);
}

static void a_wrong_order_is_answered(void **state)
{
    (void)state;
    Compilation *fresh = turnlay_new(), *begun = given(good), *done = finished(good, TURNLAY_DONE);
    assert_answers(WANT, fresh, TURNLAY_WRONG_ORDER);
    assert_answers(FINISH, fresh, TURNLAY_WRONG_ORDER);
    for (Entry entry = EXPECT_ROD; entry < ENTRY_COUNT; entry++) {
        assert_answers(entry, fresh, TURNLAY_WRONG_ORDER);
        assert_answers(entry, begun, TURNLAY_WRONG_ORDER);
    }
    for (Entry entry = GIVE; entry <= FINISH; entry++)
        assert_answers(entry, done, TURNLAY_WRONG_ORDER);
    assert_null(turnlay_want(done).path);
    /* Nothing of that has changed anything. */
    assert_int_equal(turnlay_finish(begun), TURNLAY_DONE);
    TurnlayText first, second;
    assert_int_equal(turnlay_write_plan(begun, TURNLAY_JSON, &first), TURNLAY_DONE);
    assert_int_equal(turnlay_write_plan(done, TURNLAY_JSON, &second), TURNLAY_DONE);
    assert_string_equal(first.bytes, second.bytes);
    turnlay_text_free(&first);
    turnlay_text_free(&second);
    turnlay_free(fresh);
    turnlay_free(begun);
    turnlay_free(done);
}

/* A text that is lent is read where it lies, and gives what a copy of it gives; one that is given may be changed.
 */
static void a_text_is_lent_or_given(void **state)
{
    (void)state;
    char lent_text[] = "\xef\xbb\xbf" HEAD "rod \"One\" on tube { at 20 cm { band 40 turns of nvay } }\n";
    char given_text[sizeof lent_text];
    memcpy(given_text, lent_text, sizeof lent_text);
    Compilation *lent = turnlay_new(), *made = turnlay_new();
    assert_int_equal(turnlay_lend(lent, "test.lay", lent_text, strlen(lent_text)), TURNLAY_DONE);
    assert_int_equal(turnlay_give(made, "test.lay", given_text, strlen(given_text)), TURNLAY_DONE);
    memset(given_text, 'x', sizeof given_text);
    assert_true(lent->sources.list.items[0].bytes == lent_text + 3);
    TurnlayText words, others;
    assert_int_equal(turnlay_finish(lent), TURNLAY_HAS_ERRORS);
    assert_int_equal(turnlay_finish(made), TURNLAY_HAS_ERRORS);
    assert_int_equal(turnlay_write_findings(lent, TURNLAY_TEXT, &words), TURNLAY_DONE);
    assert_int_equal(turnlay_write_findings(made, TURNLAY_TEXT, &others), TURNLAY_DONE);
    assert_string_equal(words.bytes, others.bytes);
    turnlay_text_free(&words);
    turnlay_text_free(&others);
    turnlay_free(lent);
    turnlay_free(made);
}

static void what_is_wanted_is_given_first(void **state)
{
    (void)state;
    Compilation *compilation = given(wanting);
    assert_string_equal(turnlay_want(compilation).path, "trims");
    assert_string_equal(turnlay_want(compilation).from, "test.lay");
    assert_int_equal(turnlay_finish(compilation), TURNLAY_WRONG_ORDER);
    assert_int_equal(turnlay_give(compilation, "trims.lay", "edition 1\n", 10), TURNLAY_DONE);
    assert_string_equal(turnlay_want(compilation).path, "more");
    assert_int_equal(turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "nowhere"), TURNLAY_DONE);
    assert_null(turnlay_want(compilation).path);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_HAS_ERRORS);
    turnlay_free(compilation);
}

static void what_nobody_wants_is_refused(void **state)
{
    (void)state;
    Compilation *compilation = given(good);
    assert_int_equal(turnlay_give(compilation, "test.lay", good, strlen(good)), TURNLAY_NOT_WANTED);
    assert_int_equal(turnlay_give(compilation, "other.lay", good, strlen(good)), TURNLAY_NOT_WANTED);
    assert_int_equal(turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "nowhere"), TURNLAY_NOT_WANTED);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    turnlay_free(compilation);
}

static void after_exhaustion_every_entry_says_so(void **state)
{
    (void)state;
    /* Before the first text, between, and with a page. */
    for (uint64_t fail_at = 2;; fail_at++) {
        Compilation *compilation = compilation_new(fail_at);
        TurnlayText page;
        bool failed = compilation->exhausted;
        failed = failed || turnlay_give(compilation, "test.lay", good, strlen(good)) == TURNLAY_OUT_OF_MEMORY;
        failed = failed || turnlay_finish(compilation) == TURNLAY_OUT_OF_MEMORY;
        failed = failed || turnlay_write_plan(compilation, TURNLAY_JSON, &page) == TURNLAY_OUT_OF_MEMORY;
        for (Entry entry = 0; failed && entry < ENTRY_COUNT; entry++)
            assert_answers(entry, compilation, TURNLAY_OUT_OF_MEMORY);
        assert_true(!failed || !turnlay_want(compilation).path);
        turnlay_free(compilation);
        if (failed)
            continue;
        turnlay_text_free(&page);
        assert_true(fail_at > 5);
        return;
    }
}

static void errors_leave_only_findings(void **state)
{
    (void)state;
    Compilation *compilation = finished(faulty, TURNLAY_HAS_ERRORS);
    assert_answers(WRITE_FINDINGS, compilation, TURNLAY_DONE);
    assert_answers(SUMMARY, compilation, TURNLAY_DONE);
    assert_answers(FINDING, compilation, TURNLAY_DONE);
    for (Entry entry = WRITE_PLAN; entry < ENTRY_COUNT; entry++)
        assert_answers(entry, compilation, TURNLAY_HAS_ERRORS);
    assert_answers(EXPECT_ROD, compilation, TURNLAY_HAS_ERRORS);
    turnlay_free(compilation);
}

/* Something in the house marks a thing as broken and tells nobody. */
static void what_is_lost_leaves_no_page(void **state)
{
    (void)state;
    const char *const texts[] = {good, faulty};
    TurnlayPlace place;
    TurnlaySummary summary;
    for (int i = 0; i < 2; i++) {
        Compilation *compilation = given(texts[i]);
        cause_mark(&compilation->findings, CAUSE_NONE, (Span){17, 21, 0});
        assert_int_equal(turnlay_finish(compilation), TURNLAY_LOST);
        for (Entry entry = WRITE_PLAN; entry < ENTRY_COUNT; entry++)
            assert_answers(entry, compilation, TURNLAY_LOST);
        assert_answers(WRITE_FINDINGS, compilation, TURNLAY_DONE);
        assert_int_equal(turnlay_summary(compilation, &summary), TURNLAY_DONE);
        assert_false(summary.pages);
        assert_int_equal(turnlay_lost(compilation, &place), TURNLAY_LOST);
        assert_string_equal(place.file, "test.lay");
        assert_int_equal(place.line, 2);
        assert_int_equal(place.column, 8);
        assert_int_equal(place.end, 21);
        assert_string_equal(place.label, "");
        turnlay_free(compilation);
    }
    Compilation *sound = finished(good, TURNLAY_DONE);
    assert_int_equal(turnlay_lost(sound, &place), TURNLAY_DONE);
    assert_null(place.file);
    turnlay_free(sound);
}

static void pages_come_in_their_formats_alone(void **state)
{
    (void)state;
    static TurnlayStatus (*const pages[])(Compilation *, TurnlayFormat, TurnlayText *) = {
        turnlay_write_findings, turnlay_write_plan, turnlay_write_need};
    static const char *const beginnings[][TURNLAY_FORMAT_COUNT] = {
        {[TURNLAY_TEXT] = "", [TURNLAY_JSON] = "{", [TURNLAY_TERMINAL] = ""},
        {[TURNLAY_TEXT] = "Plan", [TURNLAY_JSON] = "{", [TURNLAY_CSV] = "rod,"},
        {[TURNLAY_TEXT] = "Needs", [TURNLAY_JSON] = "{", [TURNLAY_CSV] = "scope,"}};
    Compilation *compilation = finished(good, TURNLAY_DONE);
    TurnlayText page;
    for (int i = 0; i < 3; i++)
        for (int format = -1; format <= TURNLAY_FORMAT_COUNT; format++) {
            bool known = format >= 0 && format < TURNLAY_FORMAT_COUNT && beginnings[i][format];
            assert_int_equal(pages[i](compilation, (TurnlayFormat)format, &page),
                             known ? TURNLAY_DONE : TURNLAY_WRONG_VALUE);
            if (known)
                assert_memory_equal(page.bytes, beginnings[i][format], strlen(beginnings[i][format]));
            turnlay_text_free(&page);
        }
    for (int format = -1; format <= TURNLAY_FORMAT_COUNT; format++) {
        bool known = format == TURNLAY_TEXT || format == TURNLAY_HTML || format == TURNLAY_JSON;
        assert_int_equal(turnlay_write_sheet(compilation, (TurnlayFormat)format, 1, &page),
                         known ? TURNLAY_DONE : TURNLAY_WRONG_VALUE);
        if (known)
            assert_true((strstr(page.bytes, "<!DOCTYPE html>") != NULL) == (format == TURNLAY_HTML));
        if (known)
            assert_true((strstr(page.bytes, "\"format\": \"turnlay sheet\"") != NULL) == (format == TURNLAY_JSON));
        turnlay_text_free(&page);
    }
    turnlay_free(compilation);
}

static void numbers_out_of_range_are_answered(void **state)
{
    (void)state;
    Compilation *compilation = finished(good, TURNLAY_DONE), *begun = given(good);
    TurnlayText page;
    static const double scales[] = {0, -1, 0.0099, 100.1, NAN, INFINITY};
    for (unsigned i = 0; i < sizeof scales / sizeof *scales; i++)
        assert_int_equal(turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, scales[i], NAN, &page),
                         TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, 1, INFINITY, &page), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_write_drawing(compilation, 0, TURNLAY_VIEW_COUNT, 1, NAN, &page),
                     TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_write_drawing(compilation, 2, TURNLAY_SIDE, 1, NAN, &page), TURNLAY_NO_SUCH_ROD);
    assert_int_equal(turnlay_write_template(compilation, 2, &page), TURNLAY_NO_SUCH_ROD);
    assert_int_equal(turnlay_write_template(compilation, 0, &page), TURNLAY_NO_TEMPLATE);
    TurnlayRod rod;
    assert_int_equal(turnlay_rod(compilation, 2, &rod), TURNLAY_NO_SUCH_ROD);
    TurnlaySection section;
    assert_int_equal(turnlay_section(compilation, 2, 0, &section), TURNLAY_NO_SUCH_ROD);
    assert_int_equal(turnlay_section(compilation, 0, 1, &section), TURNLAY_NO_SUCH_SECTION);
    TurnlayFinding finding;
    assert_int_equal(turnlay_finding(compilation, 100, &finding), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_measure(begun, (TurnlayMeasured){.width = 5}), TURNLAY_WRONG_VALUE);
    static const double widths[] = {0, -1, NAN, INFINITY, LIMIT_MEASURED};
    for (unsigned i = 0; i < sizeof widths / sizeof *widths; i++)
        assert_int_equal(turnlay_measure(begun, (TurnlayMeasured){.step = 3, .width = widths[i]}),
                         TURNLAY_WRONG_VALUE);
    static const TurnlayMishap mishaps[] = {
        {.step = 0}, {.step = 1, .kind = TURNLAY_MISHAP_KIND_COUNT}, {.step = 1, .way = TURNLAY_WAY_COUNT}};
    for (unsigned i = 0; i < sizeof mishaps / sizeof *mishaps; i++)
        assert_int_equal(turnlay_mishap(begun, mishaps[i]), TURNLAY_WRONG_VALUE);
    Compilation *wants = given(wanting);
    assert_int_equal(turnlay_refuse(wants, NULL, TURNLAY_REFUSAL_COUNT, "nowhere"), TURNLAY_WRONG_VALUE);
    assert_string_equal(turnlay_want(wants).path, "trims");
    turnlay_free(compilation);
    turnlay_free(begun);
    turnlay_free(wants);
}

/* A picture turned by whole turns is the same, and by a quarter is not. */
static void the_side_that_faces_is_an_angle(void **state)
{
    (void)state;
    Compilation *compilation = finished(good, TURNLAY_DONE);
    TurnlayText pages[3];
    static const double facing[] = {-270, 450, 0};
    for (int i = 0; i < 3; i++)
        assert_int_equal(turnlay_write_drawing(compilation, 1, TURNLAY_SIDE, 1, facing[i], &pages[i]),
                         TURNLAY_DONE);
    assert_string_equal(pages[0].bytes, pages[1].bytes);
    assert_true(strcmp(pages[0].bytes, pages[2].bytes) != 0);
    for (int i = 0; i < 3; i++)
        turnlay_text_free(&pages[i]);
    turnlay_free(compilation);
}

static void a_page_outlives_its_compilation(void **state)
{
    (void)state;
    Compilation *compilation = finished(good, TURNLAY_DONE);
    TurnlayText plan, again;
    assert_int_equal(turnlay_write_plan(compilation, TURNLAY_TEXT, &plan), TURNLAY_DONE);
    assert_int_equal(turnlay_write_plan(compilation, TURNLAY_TEXT, &again), TURNLAY_DONE);
    turnlay_free(compilation);
    assert_int_equal(plan.length, strlen(plan.bytes));
    assert_string_equal(plan.bytes, again.bytes);
    assert_ptr_not_equal(plan.bytes, again.bytes);
    turnlay_text_free(&plan);
    turnlay_text_free(&again);
}

/* What a page took to make is given back with it: the compilation holds no more than before. */
static void pages_leave_nothing_in_the_compilation(void **state)
{
    (void)state;
    Compilation *compilation = finished(good, TURNLAY_DONE);
    TurnlayText page;
    const unsigned char *next = compilation->arena.next;
    assert_int_equal(turnlay_write_sheet(compilation, TURNLAY_HTML, 1, &page), TURNLAY_DONE);
    assert_ptr_equal(compilation->arena.next, next);
    assert_null(compilation->page_arena.blocks);
    turnlay_text_free(&page);
    turnlay_free(compilation);
}

/* --- what is told of a compilation --- */

static void findings_are_told_with_place_and_edit(void **state)
{
    (void)state;
    Compilation *compilation = finished(faulty, TURNLAY_HAS_ERRORS);
    TurnlaySummary summary;
    TurnlayFinding finding;
    assert_int_equal(turnlay_summary(compilation, &summary), TURNLAY_DONE);
    assert_int_equal(summary.errors, 1);
    assert_int_equal(summary.findings, 1);
    assert_int_equal(summary.left_out, 0);
    assert_int_equal(summary.rods, 1);
    assert_false(summary.pages);
    assert_int_equal(turnlay_finding(compilation, 0, &finding), TURNLAY_DONE);
    const char *at = strstr(faulty, "nvay");
    assert_int_equal(finding.severity, TURNLAY_ERROR);
    assert_string_equal(finding.at.file, "test.lay");
    assert_int_equal(finding.at.line, 4);
    assert_int_equal(finding.at.column, at - strstr(faulty, "rod ") + 1);
    assert_int_equal(finding.at.start, at - faulty);
    assert_int_equal(finding.at.end, at - faulty + 4);
    assert_int_equal(finding.times, 1);
    assert_true(strlen(finding.message) && strlen(finding.mend) && strlen(finding.title));
    assert_true(finding.has_edit);
    assert_string_equal(finding.edit.file, "test.lay");
    /* Done to the letter the edit mends it. */
    char mended[sizeof faulty + 100];
    snprintf(mended, sizeof mended, "%.*s%s%s", (int)finding.edit.start, faulty, finding.edit.text,
             faulty + finding.edit.end);
    turnlay_free(finished(mended, TURNLAY_DONE));
    assert_int_equal(turnlay_finding(compilation, 1, &finding), TURNLAY_WRONG_VALUE);
    turnlay_free(compilation);
}

/* By place, whatever room found them: names are looked at before amounts. */
static void findings_come_in_source_order(void **state)
{
    (void)state;
    Compilation *compilation = finished("edition 1\nthread slack { diameter: 0 mm }\n"
                                        "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                                        "rod \"One\" on tube { at 20 cm { band 40 turns of nvay } }\n",
                                        TURNLAY_HAS_ERRORS);
    TurnlayFinding first, second;
    assert_int_equal(turnlay_finding(compilation, 0, &first), TURNLAY_DONE);
    assert_int_equal(turnlay_finding(compilation, 1, &second), TURNLAY_DONE);
    assert_int_equal(first.at.line, 2);
    assert_int_equal(second.at.line, 4);
    turnlay_free(compilation);
}

static void a_byte_order_mark_is_not_counted(void **state)
{
    (void)state;
    Compilation *compilation = finished("\xef\xbb\xbf"
                                        "edition 7\n",
                                        TURNLAY_HAS_ERRORS);
    TurnlaySummary summary;
    TurnlayFinding finding;
    assert_int_equal(turnlay_summary(compilation, &summary), TURNLAY_DONE);
    assert_int_equal(summary.findings, 1);
    assert_int_equal(turnlay_finding(compilation, 0, &finding), TURNLAY_DONE);
    assert_int_equal(finding.at.start, 0);
    assert_int_equal(finding.at.end, 9);
    turnlay_free(compilation);
}

/* Each choice that an entry has makes another page. */
static void what_is_chosen_shows(void **state)
{
    (void)state;
    Compilation *compilation = finished(good, TURNLAY_DONE), *errors = finished(faulty, TURNLAY_HAS_ERRORS);
    TurnlayText plain, coloured, whole, rest, side, unrolled, large, rod, shown;
    assert_int_equal(turnlay_write_findings(errors, TURNLAY_TEXT, &plain), TURNLAY_DONE);
    assert_int_equal(turnlay_write_findings(errors, TURNLAY_TERMINAL, &coloured), TURNLAY_DONE);
    assert_null(strchr(plain.bytes, '\033'));
    assert_non_null(strchr(coloured.bytes, '\033'));
    assert_int_equal(turnlay_write_sheet(compilation, TURNLAY_TEXT, 1, &whole), TURNLAY_DONE);
    assert_int_equal(turnlay_write_sheet(compilation, TURNLAY_TEXT, 5, &rest), TURNLAY_DONE);
    assert_true(strcmp(whole.bytes, rest.bytes) != 0);
    assert_int_equal(turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, 1, NAN, &side), TURNLAY_DONE);
    assert_int_equal(turnlay_write_drawing(compilation, 0, TURNLAY_UNROLLED, 1, NAN, &unrolled), TURNLAY_DONE);
    assert_int_equal(turnlay_write_drawing(compilation, 1, TURNLAY_SIDE, 2, NAN, &large), TURNLAY_DONE);
    assert_true(strcmp(side.bytes, unrolled.bytes) != 0);
    assert_int_equal(turnlay_write_drawing(compilation, 0, TURNLAY_ROD, 1, NAN, &rod), TURNLAY_DONE);
    assert_int_equal(turnlay_write_drawing(compilation, 0, TURNLAY_PRESENTATION, 1, NAN, &shown), TURNLAY_DONE);
    assert_non_null(strstr(rod.bytes, "the whole rod"));
    assert_null(strstr(shown.bytes, "true size"));
    assert_non_null(strstr(side.bytes, "One"));
    assert_non_null(strstr(large.bytes, "Two"));
    TurnlayText *pages[] = {&plain, &coloured, &whole, &rest, &side, &unrolled, &large, &rod, &shown};
    for (unsigned i = 0; i < sizeof pages / sizeof *pages; i++)
        turnlay_text_free(pages[i]);
    turnlay_free(compilation);
    turnlay_free(errors);
}

static void related_places_are_told(void **state)
{
    (void)state;
    Compilation *compilation = finished(HEAD "thread navy { turns: 50 per cm }\n", TURNLAY_HAS_ERRORS);
    TurnlayFinding finding;
    assert_int_equal(turnlay_finding(compilation, 0, &finding), TURNLAY_DONE);
    assert_int_equal(finding.at.line, 4);
    assert_int_equal(finding.related_count, 1);
    assert_int_equal(finding.related[0].line, 2);
    assert_int_equal(finding.related[0].column, 8);
    assert_true(strlen(finding.related[0].label) > 0);
    turnlay_free(compilation);
}

static void rods_are_told(void **state)
{
    (void)state;
    Compilation *compilation = finished(good, TURNLAY_DONE);
    TurnlaySummary summary;
    TurnlayRod one, two;
    assert_int_equal(turnlay_summary(compilation, &summary), TURNLAY_DONE);
    assert_int_equal(summary.rods, 2);
    assert_true(summary.pages);
    assert_int_equal(turnlay_rod(compilation, 0, &one), TURNLAY_DONE);
    assert_int_equal(turnlay_rod(compilation, 1, &two), TURNLAY_DONE);
    assert_string_equal(one.title, "One");
    assert_string_equal(two.title, "Two");
    assert_false(one.has_template);
    assert_true(two.has_template);
    assert_int_equal(one.steps, compilation->bench->rods[0].step_count);
    assert_int_equal(two.steps, compilation->bench->rods[1].step_count);
    turnlay_free(compilation);
}

static void a_file_that_cannot_be_had_is_a_finding(void **state)
{
    (void)state;
    static const struct {
        TurnlayRefusal refusal;
        const char *code;
    } cases[] = {{TURNLAY_FILE_NOT_FOUND, "T020"},
                 {TURNLAY_FILE_OUTSIDE, "T022"},
                 {TURNLAY_FILE_UNREADABLE, "T023"},
                 {TURNLAY_FILE_TOO_LARGE, "T901"},
                 {TURNLAY_FILE_ABOVE, "T020"}};
    for (unsigned i = 0; i < TURNLAY_REFUSAL_COUNT; i++) {
        Compilation *first = turnlay_new(), *used = given("edition 1\nuse \"knots\"\n");
        TurnlayFinding finding;
        assert_int_equal(turnlay_refuse(first, "gone.lay", cases[i].refusal, "it is gone"), TURNLAY_DONE);
        assert_null(turnlay_want(first).path);
        assert_int_equal(turnlay_want(first).status, TURNLAY_DONE);
        assert_int_equal(turnlay_give(first, "gone.lay", "", 0), TURNLAY_NOT_WANTED);
        assert_int_equal(turnlay_finish(first), TURNLAY_HAS_ERRORS);
        assert_int_equal(turnlay_finding(first, 0, &finding), TURNLAY_DONE);
        assert_string_equal(finding.code, cases[i].code);
        assert_string_equal(finding.at.file, "gone.lay");
        assert_string_equal(finding.message, "gone.lay cannot be read: it is gone");
        assert_string_equal(finding.mend, cases[i].refusal == TURNLAY_FILE_TOO_LARGE
                                              ? "split it into several files and name them with `use`"
                                              : "check the name and read permission");
        assert_answers(ROD, first, TURNLAY_NO_SUCH_ROD);
        assert_answers(WRITE_FINDINGS, first, TURNLAY_DONE);
        turnlay_free(first);
        assert_int_equal(turnlay_refuse(used, NULL, cases[i].refusal, "it is gone"), TURNLAY_DONE);
        assert_int_equal(turnlay_finish(used), TURNLAY_HAS_ERRORS);
        assert_int_equal(turnlay_finding(used, 0, &finding), TURNLAY_DONE);
        assert_string_equal(finding.code, cases[i].code);
        assert_int_equal(finding.at.line, 2);
        assert_string_equal(finding.message, "\"knots\" cannot be used: it is gone");
        assert_string_equal(finding.mend,
                            cases[i].refusal == TURNLAY_FILE_ABOVE
                                ? "put an empty file named turnlay.root there: it marks the root of your project"
                                : "check the name, or give the file's folder with -I");
        turnlay_free(used);
    }
    Compilation *sizes = given("edition 1\nthread navy { size: A }\n");
    TurnlayFinding finding;
    assert_string_equal(turnlay_want(sizes).path, "std/sizes");
    assert_int_equal(turnlay_refuse(sizes, NULL, TURNLAY_FILE_NOT_FOUND, "it is gone"), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(sizes), TURNLAY_HAS_ERRORS);
    assert_int_equal(turnlay_finding(sizes, 0, &finding), TURNLAY_DONE);
    assert_string_equal(finding.message, "\"std/sizes\" cannot be used: it is gone");
    assert_string_equal(finding.mend, "the standard library is incomplete: run `make install` again");
    turnlay_free(sizes);
}

/* Of those that were not looked for the first is told, for all. */
static void so_many_missing_files_are_enough(void **state)
{
    (void)state;
    char text[4000] = "edition 1\n";
    for (int i = 0; i < LIMIT_MISSING_FILES + 3; i++)
        sprintf(text + strlen(text), "use \"gone%d\" as gone%d\n", i, i);
    Compilation *compilation = given(text);
    for (int i = 0; i < LIMIT_MISSING_FILES; i++)
        assert_int_equal(turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "it is gone"), TURNLAY_DONE);
    assert_null(turnlay_want(compilation).path);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_HAS_ERRORS);
    TurnlayFinding last;
    assert_int_equal(turnlay_finding(compilation, LIMIT_MISSING_FILES, &last), TURNLAY_DONE);
    assert_string_equal(last.message,
                        "50 used files cannot be found or read: those from here on are not looked for");
    assert_string_equal(last.mend, "give their folder with -I, or take out what is not there");
    assert_int_equal(last.at.line, LIMIT_MISSING_FILES + 2);
    assert_int_equal(turnlay_finding(compilation, LIMIT_MISSING_FILES + 1, &last), TURNLAY_WRONG_VALUE);
    turnlay_free(compilation);
}

/* It is not read, and so nothing else is said of it. */
static void a_text_too_large_is_a_finding(void **state)
{
    (void)state;
    char *large = malloc(LIMIT_FILE_BYTES + 1);
    memset(large, ' ', LIMIT_FILE_BYTES + 1);
    for (int used = 0; used < 2; used++) {
        Compilation *compilation = used ? given("edition 1\nuse \"large\"\n") : turnlay_new();
        TurnlaySummary summary;
        TurnlayFinding finding;
        assert_int_equal(turnlay_give(compilation, "large.lay", large, LIMIT_FILE_BYTES + 1), TURNLAY_DONE);
        assert_int_equal(turnlay_finish(compilation), TURNLAY_HAS_ERRORS);
        assert_int_equal(turnlay_summary(compilation, &summary), TURNLAY_DONE);
        assert_int_equal(summary.findings, 1);
        assert_int_equal(turnlay_finding(compilation, 0, &finding), TURNLAY_DONE);
        assert_string_equal(finding.code, "T901");
        assert_string_equal(finding.at.file, "large.lay");
        assert_string_equal(finding.message, "this file is larger than 16 MiB");
        assert_string_equal(finding.mend,
                            "check that it is the right file; if it is, leave out what no rod needs");
        turnlay_free(compilation);
    }
    free(large);
}

static void assert_counts(Compilation *compilation, uint32_t errors, uint32_t warnings, uint32_t notes)
{
    TurnlaySummary summary;
    assert_int_equal(turnlay_summary(compilation, &summary), TURNLAY_DONE);
    assert_int_equal(summary.errors, errors);
    assert_int_equal(summary.warnings, warnings);
    assert_int_equal(summary.notes, notes);
    assert_true(summary.pages == (errors == 0));
}

static void a_rod_is_missed_where_one_is_expected(void **state)
{
    (void)state;
    Compilation *patterns = finished(HEAD, TURNLAY_DONE), *rods = finished(good, TURNLAY_DONE);
    assert_counts(patterns, 0, 0, 0);
    assert_int_equal(turnlay_expect_rod(patterns, TURNLAY_WARNING), TURNLAY_WRONG_VALUE);
    assert_counts(patterns, 0, 0, 0);
    for (int again = 0; again < 2; again++) { /* it is said once */
        assert_int_equal(turnlay_expect_rod(patterns, TURNLAY_NOTE), TURNLAY_DONE);
        assert_counts(patterns, 0, 0, 1);
    }
    TurnlayFinding finding;
    TurnlayText page;
    assert_int_equal(turnlay_finding(patterns, 0, &finding), TURNLAY_DONE);
    assert_string_equal(finding.code, "T024");
    assert_int_equal(finding.severity, TURNLAY_NOTE);
    assert_int_equal(finding.times, 1);
    assert_int_equal(turnlay_write_need(patterns, TURNLAY_TEXT, &page), TURNLAY_DONE);
    turnlay_text_free(&page);
    for (int again = 0; again < 2; again++) {
        assert_int_equal(turnlay_expect_rod(patterns, TURNLAY_ERROR), TURNLAY_HAS_ERRORS);
        assert_counts(patterns, 1, 0, 0);
    }
    assert_int_equal(turnlay_finding(patterns, 0, &finding), TURNLAY_DONE);
    assert_int_equal(finding.severity, TURNLAY_ERROR);
    assert_int_equal(turnlay_finding(patterns, 1, &finding), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_write_plan(patterns, TURNLAY_TEXT, &page), TURNLAY_HAS_ERRORS);
    assert_int_equal(turnlay_expect_rod(rods, TURNLAY_ERROR), TURNLAY_DONE);
    assert_counts(rods, 0, 0, 1);
    turnlay_free(patterns);
    turnlay_free(rods);
}

/* Of 300 turns with the usual uncertainty one layer drifts by less than the tolerance, of 400 it does not. */
#define DRIFTS(where) "at " where " { band 400 turns of navy }\n"
static const char noted[] =
    HEAD "thread spare { diameter: 0.2 mm }\n"
         "rod \"One\" on tube { " DRIFTS("10 cm")
             DRIFTS("20 cm") "}\n"
                             "rod \"Two\" on tube { " DRIFTS("30 cm") "}\n"
                                                                      "rod \"Three\" on tube { at 40 cm { } }\n";

static void warnings_may_count_as_errors(void **state)
{
    (void)state;
    Compilation *lenient = finished(noted, TURNLAY_DONE), *strict = given(noted), *sound = given(good);
    assert_counts(lenient, 0, 1, 3);
    assert_int_equal(turnlay_strict(strict), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(strict), TURNLAY_HAS_ERRORS);
    assert_counts(strict, 1, 0, 3);
    assert_answers(WRITE_PLAN, strict, TURNLAY_HAS_ERRORS);
    assert_answers(EXPECT_ROD, strict, TURNLAY_HAS_ERRORS);
    TurnlayFinding finding;
    uint32_t errors = 0;
    for (uint32_t i = 0; turnlay_finding(strict, i, &finding) == TURNLAY_DONE; i++)
        errors += finding.severity == TURNLAY_ERROR && strcmp(finding.code, "T312") == 0;
    assert_int_equal(errors, 1);
    assert_int_equal(turnlay_strict(sound), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(sound), TURNLAY_DONE);
    turnlay_free(lenient);
    turnlay_free(strict);
    turnlay_free(sound);
}

static char *findings_shown(Compilation *compilation, TurnlayShown shown, TurnlayFormat format)
{
    TurnlayText page;
    assert_int_equal(turnlay_show_findings(compilation, shown), TURNLAY_DONE);
    assert_int_equal(turnlay_write_findings(compilation, format, &page), TURNLAY_DONE);
    return page.bytes;
}

static unsigned times_in(const char *text, const char *words)
{
    unsigned times = 0;
    for (const char *at = text; (at = strstr(at, words)); at++)
        times++;
    return times;
}

static void notes_are_one_line_for_each_rod(void **state)
{
    (void)state;
    Compilation *compilation = finished(noted, TURNLAY_DONE);
    char *all = findings_shown(compilation, TURNLAY_SHOW_ALL, TURNLAY_TEXT);
    assert_int_equal(times_in(all, ": note: "), 3);
    assert_non_null(strstr(all, "1 warning, 3 notes\n"));
    free(all);
    char *grouped = findings_shown(compilation, TURNLAY_SHOW_GROUPED, TURNLAY_TEXT);
    assert_int_equal(times_in(grouped, "T504"), 2);
    assert_int_equal(times_in(grouped, "test.lay: 2 notes on the rod \"One\" (-v shows them): a wrap that may "
                                       "drift from its width (T504, 2 times)\n"),
                     1);
    assert_int_equal(times_in(grouped, ": note: "), 1); /* that of the other rod is alone, and told in its line */
    assert_null(strstr(grouped, "\n    mend     stop and measure"));
    assert_non_null(strstr(grouped, ": warning: "));
    assert_non_null(strstr(grouped, "1 warning\n"));
    free(grouped);
    char *errors = findings_shown(compilation, TURNLAY_SHOW_ERRORS, TURNLAY_TEXT);
    assert_string_equal(errors, "");
    free(errors);
    char *json = findings_shown(compilation, TURNLAY_SHOW_GROUPED, TURNLAY_JSON);
    assert_int_equal(times_in(json, "\"code\""), 4);
    free(json);
    json = findings_shown(compilation, TURNLAY_SHOW_ERRORS, TURNLAY_JSON);
    assert_int_equal(times_in(json, "\"code\""), 0);
    assert_non_null(strstr(json, "\"notes\": 3"));
    free(json);
    assert_int_equal(turnlay_show_findings(compilation, TURNLAY_SHOWN_COUNT), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_show_findings(NULL, TURNLAY_SHOW_ALL), TURNLAY_NULL_GIVEN);
    turnlay_free(compilation);
}

static char *sheet_of(Compilation *compilation)
{
    TurnlayText page;
    assert_int_equal(turnlay_write_sheet(compilation, TURNLAY_TEXT, 1, &page), TURNLAY_DONE);
    return page.bytes;
}

static TurnlayStatus drawn(Compilation *compilation, uint32_t rod, const char *words)
{
    TurnlayText page;
    TurnlayStatus status = turnlay_write_drawing(compilation, rod, TURNLAY_SIDE, 1, NAN, &page);
    if (status == TURNLAY_DONE)
        assert_non_null(strstr(page.bytes, words));
    turnlay_text_free(&page);
    return status;
}

/* One section's sheet and picture, and all of them again. */
static void sections_are_shown_one_by_one(void **state)
{
    (void)state;
    static const char text[] = HEAD "blank low { at 0 mm: 13 mm  at 100 cm: 8 mm }\n"
                                    "blank high { at 0 mm: 8.6 mm  at 100 cm: 3 mm }\n"
                                    "rod \"One\" on tube { at 20 cm { band 9 mm of navy } }\n"
                                    "rod \"Two\" on [low, high] overlap: 6 cm { at 20 cm { band 9 mm of navy }"
                                    " at 120 cm { band 9 mm of navy } }\n";
    Compilation *compilation = finished(text, TURNLAY_DONE);
    TurnlaySection section;
    assert_int_equal(turnlay_section(compilation, 1, 1, &section), TURNLAY_DONE);
    assert_string_equal(section.name, "high");
    assert_true(section.start == 940 && section.end == 1940);
    assert_int_equal(turnlay_section(compilation, 0, 0, &section), TURNLAY_DONE);
    assert_string_equal(section.name, "tube");
    char *whole = sheet_of(compilation);
    assert_int_equal(turnlay_show_section(compilation, "tube"), TURNLAY_NO_SUCH_SECTION); /* all of its rod */
    assert_int_equal(turnlay_show_section(compilation, "hi"), TURNLAY_NO_SUCH_SECTION);
    char name[] = "high";
    assert_int_equal(turnlay_show_section(compilation, name), TURNLAY_DONE);
    strcpy(name, "none"); /* it is the caller's */
    char *high = sheet_of(compilation);
    assert_non_null(strstr(high, "Rod: Two, section 2 of 2: high\n"));
    assert_non_null(strstr(high, "Rod: Two, all sections\n"));
    assert_null(strstr(high, "section 1 of 2"));
    assert_null(strstr(high, "Rod: One"));
    assert_int_equal(drawn(compilation, 0, ""), TURNLAY_NO_SUCH_SECTION);
    assert_int_equal(drawn(compilation, 1, "Two, section 2 of 2: high"), TURNLAY_DONE);
    assert_int_equal(turnlay_show_section(compilation, "none"), TURNLAY_NO_SUCH_SECTION);
    char *still = sheet_of(compilation);
    assert_string_equal(still, high);
    assert_int_equal(turnlay_show_section(compilation, NULL), TURNLAY_DONE);
    char *again = sheet_of(compilation);
    assert_string_equal(again, whole);
    assert_int_equal(drawn(compilation, 1, "Section 2 of 2: high"), TURNLAY_DONE);
    free(whole);
    free(high);
    free(still);
    free(again);
    turnlay_free(compilation);
}

/* What is not made is said, and planned without. */
static void what_is_swapped_is_planned_so(void **state)
{
    (void)state;
    static const char text[] = HEAD "thread plum { turns: 60 per cm }\n"
                                    "rod \"One\" on tube { at 20 cm { band 9 mm of navy } }\n"
                                    "rod \"Two\" on tube { at 30 cm { band 9 mm of plum } }\n";
    static const char by_hand[] = HEAD "thread plum { turns: 60 per cm }\n"
                                       "rod \"One\" on tube { at 20 cm { band 9 mm of plum } }\n"
                                       "rod \"Two\" on tube { at 30 cm { band 9 mm of plum } }\n";
    Compilation *all[] = {given(text), given(text), given(text), given(by_hand)};
    assert_int_equal(turnlay_swap(all[0], "", "plum"), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_swap(all[0], "navy", ""), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_swap(all[0], NULL, "plum"), TURNLAY_NULL_GIVEN);
    assert_int_equal(turnlay_swap(all[1], "navy", "nobody"), TURNLAY_DONE);
    assert_int_equal(turnlay_swap(all[2], "navy", "plum"), TURNLAY_DONE);
    static const TurnlayStatus expected[] = {TURNLAY_DONE, TURNLAY_NOT_SWAPPED, TURNLAY_DONE, TURNLAY_DONE};
    TurnlayText pages[4];
    for (int i = 0; i < 4; i++) {
        assert_int_equal(turnlay_finish(all[i]), expected[i]);
        assert_true((turnlay_swap_fault(all[i]) != NULL) == (expected[i] == TURNLAY_NOT_SWAPPED));
        assert_int_equal(turnlay_write_plan(all[i], TURNLAY_CSV, &pages[i]), TURNLAY_DONE);
    }
    assert_string_equal(turnlay_swap_fault(all[1]), "navy=nobody: the file knows no nobody");
    assert_null(turnlay_swap_fault(NULL));
    assert_true(strcmp(pages[0].bytes, pages[2].bytes) != 0);
    assert_string_equal(pages[0].bytes, pages[1].bytes);
    assert_string_equal(pages[2].bytes, pages[3].bytes);
    for (int i = 0; i < 4; i++) {
        turnlay_text_free(&pages[i]);
        turnlay_free(all[i]);
    }
}

/* In another colour it is another product: of one colour, and without the code of the one that was declared. */
static void a_thread_in_another_colour_is_another_one(void **state)
{
    (void)state;
    Compilation *compilation =
        given("edition 1\n"
              "thread dusk { turns: 67 per cm, colours: [navy, teal], period: 9 cm, code: \"D 7\" }\n"
              "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
              "rod \"One\" on tube { at 20 cm { band 9 mm of dusk } }\n");
    assert_int_equal(turnlay_swap(compilation, "dusk", "#123456"), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    assert_int_equal(compilation->job->thread_count, 2);
    const Thread *declared = compilation->job->threads[0], *swapped = compilation->job->threads[1];
    assert_string_equal(declared->name->bytes, "dusk");
    assert_string_equal(declared->code->bytes, "D 7");
    assert_string_equal(swapped->name->bytes, "dusk (#123456)");
    assert_null(swapped->code);
    assert_int_equal(swapped->colour, 0x123456);
    assert_int_equal(swapped->bare, 0x123456);
    assert_int_equal(swapped->colour_count, 0);
    assert_int_equal(swapped->index, 1);
    turnlay_free(compilation);
}

/* What broke has a sheet that goes on; where that cannot have been it is said, and the plan stays. */
static void what_broke_goes_on(void **state)
{
    (void)state;
    static const char text[] = HEAD "rod \"One\" on tube { at 20 cm { band 60 turns of navy } }\n";
    Compilation *before = finished(text, TURNLAY_DONE), *broken = given(text), *refused = given(text);
    assert_int_equal(turnlay_step_to_go_on(before), 0);
    assert_null(turnlay_mishap_fault(before));
    assert_int_equal(turnlay_step_to_go_on(NULL), 0);
    assert_null(turnlay_mishap_fault(NULL));
    assert_int_equal(turnlay_mishap(broken, (TurnlayMishap){.step = 5, .turns = 30}), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(broken), TURNLAY_DONE);
    assert_int_equal(turnlay_step_to_go_on(broken), 6);
    assert_int_equal(broken->plan->rods[0].piece_count, before->plan->rods[0].piece_count + 1);
    assert_int_equal(turnlay_mishap(refused, (TurnlayMishap){.step = 1, .turns = 3}), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(refused), TURNLAY_NOT_HAPPENED);
    assert_string_equal(turnlay_mishap_fault(refused),
                        "no thread is in work in step 1; the nearest such step is 4");
    assert_int_equal(refused->plan->rods[0].piece_count, before->plan->rods[0].piece_count);
    turnlay_free(before);
    turnlay_free(broken);
    turnlay_free(refused);
}

/* A record is copied, one of each job is enough, and what is none is a finding. */
static void a_record_is_gone_on_from(void **state)
{
    (void)state;
    static const char text[] = HEAD "rod \"One\" on tube { at 20 cm { band 60 turns of navy } }\n";
    Compilation *before = finished(text, TURNLAY_DONE), *recorded = given(text), *refused = given(text);
    char record[300], mark[16];
    strcpy(mark, pattern_mark(&before->arena, before->job->pattern_hash));
    snprintf(
        record, sizeof record,
        "{\"turnlay\": \"record 1\", \"pattern\": \"%s\", \"at\": 5, \"lots\": [{\"thread\": \"navy\", \"lot\": "
        "\"7\"}]}",
        mark);
    assert_int_equal(turnlay_step_at(NULL), 0);
    assert_int_equal(turnlay_record(recorded, "r.json", record, strlen(record)), TURNLAY_DONE);
    memset(record, 'x', 10);
    assert_int_equal(turnlay_record(recorded, "r.json", "{}", 2), TURNLAY_WRONG_ORDER);
    assert_int_equal(turnlay_step_at(recorded), 0);
    assert_int_equal(turnlay_finish(recorded), TURNLAY_DONE);
    assert_int_equal(turnlay_step_at(recorded), 5);
    assert_string_equal(thread_lot(recorded->job, recorded->job->threads[0]), "7");
    TurnlayText page, other;
    assert_int_equal(turnlay_write_sheet(recorded, TURNLAY_HTML, 0, &page), TURNLAY_DONE);
    assert_non_null(strstr(page.bytes, " data-from=\"5\">"));
    turnlay_text_free(&page);
    assert_int_equal(turnlay_write_plan(recorded, TURNLAY_JSON, &page), TURNLAY_DONE);
    assert_int_equal(turnlay_write_plan(before, TURNLAY_JSON, &other), TURNLAY_DONE);
    assert_string_equal(page.bytes, other.bytes); /* records are no files of the plan's */
    turnlay_text_free(&page);
    turnlay_text_free(&other);
    assert_int_equal(turnlay_record(refused, "own.json", record, strlen(record)), TURNLAY_DONE);
    assert_int_equal(turnlay_learn_from(refused, "other.json", NULL, 0), TURNLAY_DONE);
    assert_int_equal(turnlay_learn_from(refused, "other.json", "{}", 2), TURNLAY_WRONG_ORDER);
    assert_int_equal(turnlay_finish(refused), TURNLAY_HAS_ERRORS);
    TurnlayFinding first, second;
    assert_int_equal(turnlay_finding(refused, 0, &first), TURNLAY_DONE);
    assert_int_equal(turnlay_finding(refused, 1, &second), TURNLAY_DONE);
    assert_string_equal(first.code, "T701");
    assert_string_equal(first.at.file, "own.json");
    assert_string_equal(second.at.file, "other.json");
    assert_int_equal(turnlay_finding(refused, 2, &first), TURNLAY_WRONG_VALUE);
    turnlay_free(before);
    turnlay_free(recorded);
    turnlay_free(refused);
}

/* The first step that measures, by the sheet, and the width there. */
static uint32_t first_measuring(Compilation *compilation, double *width)
{
    const BenchRod *rod =
        &bench_make(&compilation->arena, compilation->plan, step_letters(&compilation->arena, compilation->plan))
             ->rods[0];
    assert_int_equal(rod->action_count, compilation->bench->rods[0].action_count);
    assert_int_equal(rod->step_count, compilation->bench->rods[0].step_count);
    for (uint32_t s = 0; s < rod->step_count; s++)
        for (uint32_t i = rod->steps[s].first; i < rod->steps[s].first + rod->steps[s].count; i++)
            if (rod->actions[i].kind == ACTION_MEASURE) {
                *width = rod->actions[i].length;
                return s + 1;
            }
    return 0;
}

/* A width at a step that measures changes the plan, one elsewhere is refused and changes nothing. */
static void what_is_measured_plans_again(void **state)
{
    (void)state;
    static const char text[] = HEAD "rod \"One\" on tube { at 20 cm length: 5 cm {\n"
                                    "    band 120 turns of navy  band fill of navy } }\n";
    Compilation *before = finished(text, TURNLAY_DONE);
    double width = 0;
    uint32_t measuring = first_measuring(before, &width);
    assert_true(measuring > 1);
    Compilation *measured = given(text), *refused = given(text);
    TurnlayMeasured wider = {.step = measuring, .width = width * 1.1, .sure = 1};
    assert_int_equal(turnlay_measure(measured, wider), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(measured), TURNLAY_DONE);
    assert_int_equal(turnlay_step_not_measured(measured), 0);
    assert_int_equal(turnlay_measure(refused, (TurnlayMeasured){.step = 1, .width = width}), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(refused), TURNLAY_NOT_MEASURED);
    assert_int_equal(turnlay_step_not_measured(refused), 1);
    assert_int_equal(turnlay_step_not_measured(NULL), 0);
    Compilation *all[] = {before, measured, refused};
    TurnlayText pages[3];
    for (int i = 0; i < 3; i++)
        assert_int_equal(turnlay_write_plan(all[i], TURNLAY_CSV, &pages[i]), TURNLAY_DONE);
    assert_true(strcmp(pages[0].bytes, pages[1].bytes) != 0);
    assert_string_equal(pages[0].bytes, pages[2].bytes);
    for (int i = 0; i < 3; i++) {
        turnlay_text_free(&pages[i]);
        turnlay_free(all[i]);
    }
}

/* Findings told before planning stay where planning begins again, however many it told the first time. */
static void what_was_told_before_measuring_stays(void **state)
{
    (void)state;
    char text[4000] =
        "thread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\nbench { carry: 1 turn }\n"
        "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nrod \"One\" on tube {\n";
    enum { PLACES = 12 };
    for (int i = 1; i <= PLACES; i++)
        snprintf(text + strlen(text), sizeof text - strlen(text),
                 "at %d cm { band 40 turns of navy band 3 turns of mist band 41 turns of navy }\n", 5 * i);
    strcat(text, "}\n");
    double width = 0;
    Compilation *before = finished(text, TURNLAY_DONE), *measured = given(text);
    TurnlayMeasured wider = {.step = first_measuring(before, &width), .width = 6.2, .sure = 1};
    turnlay_free(before);
    assert_int_equal(turnlay_measure(measured, wider), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(measured), TURNLAY_DONE);
    TurnlayFinding first;
    assert_int_equal(turnlay_finding(measured, 0, &first), TURNLAY_DONE);
    assert_string_equal(first.code, "T010");
    assert_non_null(strstr(first.message, "does not say its edition"));
    TurnlaySummary summary;
    assert_int_equal(turnlay_summary(measured, &summary), TURNLAY_DONE);
    assert_true(summary.warnings > PLACES);
    turnlay_free(measured);
}

/* Each file of a row uses the next one twice, and so the last lies 2^n times in the gathered file. */
static Compilation *crosswise(uint32_t depth)
{
    static const char uses[] = "edition 1\nuse \"%u\" as left\nuse \"%u_\" as right\n";
    char text[200];
    snprintf(text, sizeof text, uses, 1, 1);
    Compilation *compilation = given(text);
    for (TurnlayWant want; (want = turnlay_want(compilation)).path;) {
        uint32_t row = (uint32_t)atoi(want.path);
        if (row == depth)
            snprintf(text, sizeof text, "edition 1\nlet shade = %u\n", row);
        else
            snprintf(text, sizeof text, uses, row + 1, row + 1);
        assert_int_equal(turnlay_give(compilation, want.path, text, strlen(text)), TURNLAY_DONE);
    }
    return compilation;
}

static void a_gathered_file_that_nobody_could_read_is_refused(void **state)
{
    (void)state;
    Compilation *small = crosswise(4), *large = crosswise(25);
    TurnlayText page;
    assert_int_equal(turnlay_finish(small), TURNLAY_DONE);
    assert_int_equal(turnlay_write_gathered(small, &page), TURNLAY_DONE);
    turnlay_free(finished(page.bytes, TURNLAY_DONE));
    turnlay_text_free(&page);
    assert_int_equal(turnlay_finish(large), TURNLAY_DONE);
    assert_answers(WRITE_GATHERED, large, TURNLAY_TOO_LARGE);
    assert_null(large->page_arena.blocks);
    /* It is told once, however often it is asked for, and other pages are to be had. */
    assert_answers(WRITE_GATHERED, large, TURNLAY_TOO_LARGE);
    TurnlaySummary summary;
    TurnlayFinding finding;
    assert_int_equal(turnlay_summary(large, &summary), TURNLAY_DONE);
    assert_int_equal(summary.errors, 1);
    assert_true(summary.pages);
    assert_int_equal(turnlay_finding(large, summary.findings - 1, &finding), TURNLAY_DONE);
    assert_string_equal(finding.code, "T906");
    assert_non_null(strstr(finding.message, "larger than 16 MiB"));
    assert_int_equal(finding.times, 2);
    assert_answers(WRITE_PLAN, large, TURNLAY_DONE);
    turnlay_free(small);
    turnlay_free(large);
}

static void codes_are_explained(void **state)
{
    (void)state;
    TurnlayExplanation each, same;
    uint32_t count = 0;
    for (; turnlay_explanation(count, &each) == TURNLAY_DONE; count++) {
        assert_int_equal(turnlay_explain(each.code, &same), TURNLAY_DONE);
        assert_string_equal(same.code, each.code);
        assert_memory_equal(each.page, "# T", 3);
        assert_memory_equal(each.page + 2, each.code, strlen(each.code));
        assert_true(strlen(each.title) > 0);
    }
    assert_int_equal(count, FINDING_CODE_COUNT);
    assert_int_equal(turnlay_explanation(count, &each), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_explanation(UINT32_MAX, &each), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_explain("t101", &same), TURNLAY_DONE);
    assert_int_equal(turnlay_explain("T000", &same), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_explain("", &same), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_explain(NULL, &same), TURNLAY_NULL_GIVEN);
    assert_int_equal(turnlay_explain("T101", NULL), TURNLAY_NULL_GIVEN);
    assert_int_equal(turnlay_explanation(0, NULL), TURNLAY_NULL_GIVEN);
}

/* By what turnlay.h says of each. */
static void assert_between(Compilation *compilation, const char *from, const char *to, const char *fault)
{
    TurnlayStatus expected = fault ? TURNLAY_NO_SUCH_THREAD : TURNLAY_DONE;
    assert_int_equal(turnlay_show_between(compilation, from, to), expected);
    const char *said = turnlay_between_fault(compilation);
    if (fault)
        assert_string_equal(said, fault);
    else
        assert_null(said);
}

static void assert_shades_begin(Compilation *compilation, const char *title)
{
    TurnlayText page;
    assert_int_equal(turnlay_write_shades(compilation, TURNLAY_TEXT, &page), TURNLAY_DONE);
    if (strncmp(page.bytes, title, strlen(title)) != 0)
        fail_msg("%.80s", page.bytes);
    turnlay_text_free(&page);
}

/* By the names that the file knows, its own and those of used files, or as pages call them. */
static void threads_are_chosen_by_their_names(void **state)
{
    (void)state;
    static const char text[] =
        "edition 1\n"
        "use \"shop\" as shop { edition 1  thread navy { turns: 67 per cm, colour: #22346b }\n"
        "    thread mist { turns: 67 per cm, colour: #9db8d6 } }\n"
        "use \"more\" as more pass_on: [dove] { edition 1  thread dove { turns: 67 per cm, colour: #a8b0b8 } }\n"
        "use \"other\" { edition 1  use \"hidden\" { edition 1  thread deep { turns: 67 per cm, colour: #101020 } } }\n"
        "thread navy { turns: 67 per cm, colour: #223560 }\n"
        "thread foam { turns: 67 per cm, colour: #dfe9ef }\n"
        "thread plain { turns: 67 per cm }\n"
        "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
        "rod \"One\" on tube { at 20 cm { band 20 turns of foam } }\n"
        "rod \"Two\" like \"One\" { foam: shop.mist }\n";
    Compilation *compilation = finished(text, TURNLAY_DONE);
    assert_shades_begin(compilation, "Shades of all threads\n");
    assert_between(compilation, "navy", "foam", NULL);
    assert_shades_begin(compilation, "Shades from navy to foam\n");
    assert_between(compilation, "shop.navy", "shop.mist", NULL);
    assert_shades_begin(compilation, "Shades from shop.navy to shop.mist\n");
    assert_between(compilation, "mist", "dove", NULL); /* as pages call it */
    assert_shades_begin(compilation, "Shades from shop.mist to dove\n");
    assert_between(compilation, "deep", "navy", NULL);
    assert_between(compilation, "navi", "foam", "the file knows no thread navi; did you mean navy?");
    assert_shades_begin(compilation, "Shades from deep to navy\n"); /* nothing changed */
    assert_between(compilation, "navy", "Foam", "the file knows no thread Foam; did you mean foam?");
    assert_between(compilation, "navy", "FOAM", "the file knows no thread FOAM; did you mean foam?");
    assert_between(compilation, "navy", "shop.mits",
                   "the file knows no thread shop.mits; did you mean shop.mist?");
    assert_between(compilation, "navy", "vermilion", "the file knows no thread vermilion");
    assert_between(compilation, "navy", "tube", "the file knows no thread tube");
    assert_between(compilation, "plain", "foam", "plain has no colour; give it one, such as colour: #22346b");
    assert_between(compilation, "foam", "foam", "foam and foam are one thread; name two");
    assert_int_equal(turnlay_show_between(compilation, "navy", NULL), TURNLAY_NULL_GIVEN);
    assert_between(compilation, NULL, NULL, NULL);
    assert_shades_begin(compilation, "Shades of all threads\n");
    assert_null(turnlay_between_fault(NULL));
    turnlay_free(compilation);
}

static void shades_come_in_text_json_and_svg(void **state)
{
    (void)state;
    Compilation *compilation =
        finished("edition 1\nthread navy { turns: 67 per cm, colour: #22346b }\n", TURNLAY_DONE);
    TurnlayText page;
    for (TurnlayFormat format = 0; format <= TURNLAY_FORMAT_COUNT; format++) {
        bool known = format == TURNLAY_TEXT || format == TURNLAY_JSON;
        assert_int_equal(turnlay_write_shades(compilation, format, &page),
                         known ? TURNLAY_DONE : TURNLAY_WRONG_VALUE);
        if (known)
            assert_true((strstr(page.bytes, "\"format\": \"turnlay shades\"") != NULL)
                        == (format == TURNLAY_JSON));
        turnlay_text_free(&page);
    }
    assert_int_equal(turnlay_write_shades_drawing(compilation, &page), TURNLAY_DONE);
    assert_non_null(strstr(page.bytes, "<svg"));
    turnlay_text_free(&page);
    assert_int_equal(turnlay_show_eyes(NULL, TURNLAY_TRITANOPIA), TURNLAY_NULL_GIVEN);
    assert_int_equal(turnlay_show_eyes(compilation, TURNLAY_EYES_COUNT), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_show_eyes(compilation, TURNLAY_TRITANOPIA), TURNLAY_DONE);
    assert_int_equal(turnlay_write_shades(compilation, TURNLAY_JSON, &page), TURNLAY_DONE);
    assert_non_null(strstr(page.bytes, "\"eyes\": \"tritanopia\""));
    turnlay_text_free(&page);
    turnlay_free(compilation);
}

static void every_status_has_words_of_its_own(void **state)
{
    (void)state;
    static const char *const words[TURNLAY_STATUS_COUNT] = {
        [TURNLAY_DONE] = "done",
        [TURNLAY_HAS_ERRORS] = "there are findings of error level",
        [TURNLAY_LOST] = "something is left out and no finding says why: a bug in turnlay",
        [TURNLAY_OUT_OF_MEMORY] = "this machine has no memory left",
        [TURNLAY_NULL_GIVEN] = "NULL where something must stand",
        [TURNLAY_WRONG_ORDER] = "called too early or too late",
        [TURNLAY_NOT_WANTED] = "no text is wanted",
        [TURNLAY_WRONG_VALUE] = "a format that this page does not come in, or a number out of its range",
        [TURNLAY_NO_SUCH_ROD] = "there are fewer rods than that",
        [TURNLAY_NO_SUCH_SECTION] = "there is no section of that name, or there are fewer",
        [TURNLAY_NO_SUCH_THREAD] = "a thread is not one to choose by; turnlay_between_fault says why",
        [TURNLAY_NO_TEMPLATE] = "this rod has no crosswrap, and a template is a crosswrap's",
        [TURNLAY_NOT_MEASURED] = "no width is measured in this step",
        [TURNLAY_NOT_HAPPENED] = "this cannot have happened in this step",
        [TURNLAY_NOT_SWAPPED] = "a swap is not made",
        [TURNLAY_TOO_LARGE] = "the page would be larger than is allowed; a finding says by which limit",
    };
    for (int i = 0; i < TURNLAY_STATUS_COUNT; i++)
        assert_string_equal(turnlay_status_words((TurnlayStatus)i), words[i]);
    for (int i = 0; i < TURNLAY_STATUS_COUNT; i++)
        for (int j = 0; j < i; j++)
            assert_string_not_equal(turnlay_status_words((TurnlayStatus)i),
                                    turnlay_status_words((TurnlayStatus)j));
    assert_string_equal(turnlay_status_words(TURNLAY_STATUS_COUNT), "no status of this library");
    assert_string_equal(turnlay_status_words((TurnlayStatus)-1), "no status of this library");
    assert_string_equal(turnlay_version(), TURNLAY_VERSION);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(null_is_answered),
        cmocka_unit_test(a_wrong_order_is_answered),
        cmocka_unit_test(a_text_is_lent_or_given),
        cmocka_unit_test(what_is_wanted_is_given_first),
        cmocka_unit_test(what_nobody_wants_is_refused),
        cmocka_unit_test(after_exhaustion_every_entry_says_so),
        cmocka_unit_test(errors_leave_only_findings),
        cmocka_unit_test(what_is_lost_leaves_no_page),
        cmocka_unit_test(pages_come_in_their_formats_alone),
        cmocka_unit_test(numbers_out_of_range_are_answered),
        cmocka_unit_test(the_side_that_faces_is_an_angle),
        cmocka_unit_test(a_page_outlives_its_compilation),
        cmocka_unit_test(pages_leave_nothing_in_the_compilation),
        cmocka_unit_test(findings_are_told_with_place_and_edit),
        cmocka_unit_test(findings_come_in_source_order),
        cmocka_unit_test(a_byte_order_mark_is_not_counted),
        cmocka_unit_test(what_is_chosen_shows),
        cmocka_unit_test(related_places_are_told),
        cmocka_unit_test(rods_are_told),
        cmocka_unit_test(a_file_that_cannot_be_had_is_a_finding),
        cmocka_unit_test(so_many_missing_files_are_enough),
        cmocka_unit_test(a_text_too_large_is_a_finding),
        cmocka_unit_test(a_rod_is_missed_where_one_is_expected),
        cmocka_unit_test(warnings_may_count_as_errors),
        cmocka_unit_test(notes_are_one_line_for_each_rod),
        cmocka_unit_test(sections_are_shown_one_by_one),
        cmocka_unit_test(what_is_swapped_is_planned_so),
        cmocka_unit_test(a_thread_in_another_colour_is_another_one),
        cmocka_unit_test(what_is_measured_plans_again),
        cmocka_unit_test(what_broke_goes_on),
        cmocka_unit_test(a_record_is_gone_on_from),
        cmocka_unit_test(what_was_told_before_measuring_stays),
        cmocka_unit_test(a_gathered_file_that_nobody_could_read_is_refused),
        cmocka_unit_test(codes_are_explained),
        cmocka_unit_test(threads_are_chosen_by_their_names),
        cmocka_unit_test(shades_come_in_text_json_and_svg),
        cmocka_unit_test(every_status_has_words_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
