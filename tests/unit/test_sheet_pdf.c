/* The bench sheet as a PDF: the same bytes each time, nothing left behind when memory runs out, the same light as
 * in SVG, labels that keep apart, and all that is set on the pages in its place. tests/pdf measures the pages. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "pdf_record.h"

#include "base/limits.h"
#include "draw/shading.h"
#include "emit/emit.h"
#include "emit/pdf/pdf_marking_strip.h"
#include "words/sheet.h"
#include "compilation.h"
#include "words/step_letters.h"

#include <malloc.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char text[] =
    "edition 1\n"
    "about { title: \"Two shades\", author: \"Shop copy\" }\n"
    "thread navy { turns: 67 per cm, colour: #22346b }\n"
    "thread mist { turns: 68 per cm, colour: #9db8d6 }\n"
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
    "guide ring { foot: 14 mm, gap: 6 mm, width: 2 mm, height: 1 mm, ramp: 5 mm, before: 3 mm }\n"
    "rod \"One\" on tube {\n"
    "    at 20 cm {\n"
    "        under { band 240 mm of navy }\n"
    "        over { band 40 turns of navy  fade to mist steps: 5  band 50 turns of mist }\n"
    "    }\n"
    "    at 60 cm guide: ring { band fill of navy }\n"
    "}\n"
    "rod \"Two\" on tube { at 30 cm { band 50 turns of navy  gap 5 mm  band 50 turns of mist } }\n";

/* A compilation with its sheet, all requests for memory granted so far. */
typedef struct Course {
    Compilation *compilation;
    Sheet *sheet;
} Course;

/* mishap: or step 0 for none. */
static void start_with(Course *course, const char *source, TurnlayMishap mishap)
{
    course->compilation = compilation_new(0);
    assert_non_null(course->compilation);
    turnlay_give(course->compilation, "two.lay", source, strlen(source));
    assert_null(turnlay_want(course->compilation).path);
    if (mishap.step)
        assert_int_equal(turnlay_mishap(course->compilation, mishap), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(course->compilation), TURNLAY_DONE);
    if (setjmp(*trap_set(&course->compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    course->sheet = sheet_make(&course->compilation->arena,
                               bench_make(&course->compilation->arena, course->compilation->plan,
                                          step_letters(&course->compilation->arena, course->compilation->plan)));
}

static void start(Course *course) { start_with(course, text, (TurnlayMishap){0}); }

/* How a sheet's printing came out. */
typedef enum { PRINTED, NO_FONT, EXHAUSTED } Outcome;

static Outcome print_from(Course *course, Buffer *out, uint32_t step, bool letter)
{
    if (setjmp(*trap_set(&course->compilation->trap)) != 0)
        return EXHAUSTED;
    buffer_start(out, &course->compilation->arena);
    sheet_begin_at(&course->compilation->arena, course->sheet, step);
    return emit_sheet_pdf(out, course->sheet, course->compilation->plan, step, letter) ? PRINTED : NO_FONT;
}

static Outcome print(Course *course, Buffer *out, bool letter) { return print_from(course, out, 1, letter); }

static void two_runs_give_the_same_bytes(void **state)
{
    (void)state;
    Course first, second;
    Buffer a, b, letter;
    start(&first);
    start(&second);
    assert_int_equal(print(&first, &a, false), PRINTED);
    assert_int_equal(print(&second, &b, false), PRINTED);
    assert_int_equal(print(&second, &letter, true), PRINTED);
    assert_true(a.length > 10000 && memcmp(a.bytes, "%PDF-", 5) == 0);
    assert_int_equal(a.length, b.length);
    assert_memory_equal(a.bytes, b.bytes, a.length);
    assert_true(letter.length != a.length || memcmp(letter.bytes, a.bytes, a.length) != 0);
    turnlay_free(first.compilation);
    turnlay_free(second.compilation);
}

/* Bytes that the program holds, those of the arenas among them. */
static size_t held(void) { return mallinfo2().uordblks; }

/* The least that was held after one of so many rounds, each with another request that fails: pango's threads may
 * hold something for a moment. */
static size_t least_held(Course *course, uint64_t before, uint64_t requests)
{
    size_t least = SIZE_MAX;
    Buffer out;
    for (uint64_t n = 1; n <= requests; n++) {
        start(course);
        assert_int_equal(course->compilation->trap.requests, before);
        course->compilation->trap.fail_at = before + n;
        assert_int_equal(print(course, &out, false), EXHAUSTED);
        turnlay_free(course->compilation);
        least = held() < least ? held() : least;
    }
    return least;
}

/* The first rounds fill the caches of pango and fontconfig, which belong to the process. */
static void every_request_may_fail_and_nothing_is_left(void **state)
{
    (void)state;
    Course course;
    Buffer out;
    start(&course);
    uint64_t before = course.compilation->trap.requests;
    assert_int_equal(print(&course, &out, false), PRINTED);
    uint64_t requests = course.compilation->trap.requests - before;
    turnlay_free(course.compilation);
    assert_true(requests >= 3);
    enum { ROUNDS = 3 };
    least_held(&course, before, requests);
    size_t after_some = least_held(&course, before, requests), after_more = 0;
    for (int round = 0; round < ROUNDS; round++)
        after_more = least_held(&course, before, requests);
    /* A paper left behind once would be more than this: a chunk of its bytes alone has as much. */
    assert_true(after_more < after_some + 32 * 1024);
}

/* What src/emit/svg.c writes: <stop offset=".06" stop-color="#000" stop-opacity=".2"/>. */
static void light_is_written_as_it_is_drawn(void **state)
{
    (void)state;
    Course course;
    Buffer out;
    start(&course);
    buffer_start(&out, &course.compilation->arena);
    emit_svg(&out, draw_rod(&course.compilation->arena, course.compilation->plan, 0, VIEW_SIDE, 1));
    buffer_put(&out, "", 1);
    int count = 0;
    for (const char *at = strstr(out.bytes, "<stop "); at; at = strstr(at + 1, "<stop "), count++) {
        double offset, opacity;
        unsigned colour;
        assert_int_equal(sscanf(at, "<stop offset=\"%lf\" stop-color=\"#%3x\" stop-opacity=\"%lf\"/>", &offset,
                                &colour, &opacity),
                         3);
        const Shading *gloss = &shadings[SHADE_CYLINDER];
        assert_true(count < (int)gloss->count);
        assert_float_equal(gloss->stops[count].at, offset, 0);
        assert_float_equal(gloss->stops[count].opacity, opacity, 0);
        assert_int_equal(gloss->stops[count].colour, colour ? 0xffffff : 0);
    }
    assert_int_equal(count, shadings[SHADE_CYLINDER].count);
    turnlay_free(course.compilation);
}

static void letters_on_paper_have_a_limit(void **state)
{
    (void)state;
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    Paper paper = {.arena = &arena, .counting = true, .too_much = BEYOND_PRINTED};
    volatile bool within = false;
    if (setjmp(*trap_set(&trap)) == 0) {
        paper_count(&paper, LIMIT_PRINTED);
        within = true;
        paper_count(&paper, 1);
    }
    assert_true(within);
    assert_int_equal(paper.printed, LIMIT_PRINTED + 1);
    assert_int_equal(trap.beyond, BEYOND_PRINTED);
    paper.counting = false; /* in the second round all is counted already */
    paper_count(&paper, 1);
    assert_int_equal(paper.printed, LIMIT_PRINTED + 1);
}

/* --- laid texts --- */

/* Set one after the other on one paper, each in either order, and on papers of their own: as wide and as high. */
static void texts_are_laid_each_by_its_own_style(void **state)
{
    (void)state;
    static const char words[] = "Wind twelve turns of navy, pack them and measure their width by callipers";
    enum { ROOM = 30, STYLES = 5 };
    static const Style styles[STYLES] = {{.points = 9},
                                         {.points = 12},
                                         {.points = 9, .bold = true},
                                         {.points = 9, .bold_bytes = 30},
                                         {.points = 9, .lines = 1}};
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    if (setjmp(*trap_set(&trap)) != 0)
        fail_msg("the machine has no memory left");
    double wide[STYLES], high[STYLES];
    for (int i = 0; i < STYLES; i++) {
        Paper alone = {.arena = &arena};
        assert_true(paper_open(&alone));
        wide[i] = paper_text_width(&alone, &styles[i], words);
        high[i] = paper_text_height(&alone, &styles[i], ROOM, words);
        paper_close(&alone);
        assert_true(i == 0 || i == 4 || wide[i] > wide[0]);
    }
    assert_true(high[4] < high[0] && high[0] < high[1]);
    for (int one = 0; one < STYLES; one++)
        for (int other = 0; other < STYLES; other++) {
            Paper paper = {.arena = &arena};
            assert_true(paper_open(&paper));
            for (int turn = 0; turn < 2; turn++) {
                int i = turn ? other : one;
                assert_float_equal(paper_text_width(&paper, &styles[i], words), wide[i], 0);
                assert_float_equal(paper_text_height(&paper, &styles[i], ROOM, words), high[i], 0);
            }
            paper_close(&paper);
        }
    arena_end(&arena);
}

/* --- strips --- */

/* Of a guide's two feet the one nearer to the butt lies where the rod's butt does; layers of one place stand as
 * they are wound. */
static void feet_side_by_side_lie_as_the_rod_does(void **state)
{
    (void)state;
    static const char *const left[] = {"butt", "tip"};
    for (int i = 0; i < 2; i++) {
        char source[1000];
        snprintf(
            source, sizeof source,
            "edition 1\nthread navy { turns: 67 per cm, colour: #22346b }\nbench { left: %s }\n"
            "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
            "guide pair { foot: [14 mm, 14 mm], gap: 6 mm, width: 2 mm, height: 1 mm, ramp: 5 mm, before: 3 mm }\n"
            "rod \"One\" on tube {\n at 20 cm { under { band 40 turns of navy } over { band 30 turns of navy } }\n"
            " at 60 cm guide: pair { band fill of navy }\n}\n",
            left[i]);
        Course course;
        start_with(&course, source, (TurnlayMishap){0});
        const SheetRod *rod = &course.sheet->rods[0];
        uint32_t pairs = 0;
        for (uint32_t c = 0; c < rod->card_count; c++) {
            const Card *card = &rod->cards[c];
            StripRows rows = strip_rows(&course.compilation->arena, rod, card, &course.compilation->job->bench);
            assert_int_equal(rows.count, card->layer_count * card->place_count);
            assert_int_equal(rows.turned, card->place_count == 2 && i == 1);
            pairs += card->place_count == 2;
        }
        assert_true(pairs == 1 && rod->card_count > 1);
        turnlay_free(course.compilation);
    }
}

/* --- labels --- */

static void spread(SpreadLabel *labels, uint32_t count, double apart, double low, double high)
{
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    if (setjmp(*trap_set(&trap)) != 0)
        fail_msg("the machine has no memory left");
    spread_labels(&arena, labels, count, apart, low, high);
    arena_end(&arena);
}

static double squares(const SpreadLabel *labels, uint32_t count)
{
    double sum = 0;
    for (uint32_t i = 0; i < count; i++)
        sum += (labels[i].shown - labels[i].at) * (labels[i].shown - labels[i].at);
    return sum;
}

static void labels_with_room_stay_where_they_are(void **state)
{
    (void)state;
    SpreadLabel labels[] = {{3, 0}, {7, 0}, {20, 0}};
    spread(labels, 3, 3, 1, 30);
    for (int i = 0; i < 3; i++)
        assert_float_equal(labels[i].shown, labels[i].at, 1e-12);
}

static void labels_at_one_place_part_evenly(void **state)
{
    (void)state;
    SpreadLabel labels[] = {{10, 0}, {10, 0}, {10, 0}};
    spread(labels, 3, 2, 0, 30);
    assert_float_equal(labels[0].shown, 8, 1e-12);
    assert_float_equal(labels[1].shown, 10, 1e-12);
    assert_float_equal(labels[2].shown, 12, 1e-12);
    spread(labels, 3, 2, 9, 30); /* no room to the left */
    assert_float_equal(labels[0].shown, 9, 1e-12);
    assert_float_equal(labels[2].shown, 13, 1e-12);
}

/* Against the best of all placings on a grid, for labels whose best placing lies on it. */
static void labels_lie_as_near_as_can_be(void **state)
{
    (void)state;
    enum { COUNT = 3, HIGH = 12 };
    for (int code = 0; code < 216; code++) {
        int second = code % 6 + code / 6 % 6;
        SpreadLabel labels[COUNT] = {{code % 6, 0}, {second, 0}, {second + code / 36, 0}};
        for (int i = 0; i < COUNT; i++)
            labels[i].at = fmin(labels[i].at * 6, HIGH * 6); /* means of two and of three are whole */
        spread(labels, COUNT, 12, 0, HIGH * 6);
        double best = INFINITY;
        for (int a = 0; a <= HIGH * 6; a++)
            for (int b = a + 12; b <= HIGH * 6; b++)
                for (int c = b + 12; c <= HIGH * 6; c++) {
                    SpreadLabel other[COUNT] = {{labels[0].at, a}, {labels[1].at, b}, {labels[2].at, c}};
                    best = fmin(best, squares(other, COUNT));
                }
        assert_float_equal(squares(labels, COUNT), best, 1e-9);
        assert_true(labels[0].shown >= 0 && labels[COUNT - 1].shown <= HIGH * 6);
        for (int i = 1; i < COUNT; i++)
            assert_true(labels[i].shown - labels[i - 1].shown >= 12 - 1e-9);
    }
}

/* --- what is set on the pages --- */

static char *read_whole(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        fail_msg("%s is not there", path);
    char *bytes = calloc(1, 1 << 20);
    assert_true(fread(bytes, 1, (1 << 20) - 1, file) > 0);
    fclose(file);
    return bytes;
}

/* Sheets of tests/pdf, with the record of what is set on their pages. */
static const struct {
    const char *source, *record;
    double width, height;
    bool letter;
    uint32_t from; /* step */
    TurnlayMishap mishap;
} settings[] = {
    {"tests/pdf/setting_a4.lay", "tests/pdf/setting_a4.record", 210, 297, false, 1, {0}},
    {"tests/pdf/setting_long.lay", "tests/pdf/setting_long.record", 210, 297, false, 1, {0}},
    {"tests/pdf/setting_letter.lay", "tests/pdf/setting_letter.record", 8.5 * 25.4, 11 * 25.4, true, 1, {0}},
    {"tests/pdf/setting_job.lay",
     "tests/pdf/setting_job.record",
     210,
     297,
     false,
     19,
     {.step = 18, .kind = TURNLAY_BROKE, .turns = 50}},
};
enum { SETTINGS = sizeof settings / sizeof *settings };

/* Gives the record as it is now. */
static char *set_pages_of(const char *source, TurnlayMishap mishap, uint32_t from, bool letter)
{
    Course course;
    Buffer out;
    size_t length;
    char *said = NULL;
    start_with(&course, source, mishap);
    record.text_count = record.drawn_count = 0;
    record.all_drawn = no_box;
    record.to = open_memstream(&said, &length);
    assert_int_equal(print_from(&course, &out, from, letter), PRINTED);
    record.on = false;
    fclose(record.to);
    record.to = NULL;
    turnlay_free(course.compilation);
    return said;
}

static char *set_pages(int which)
{
    char *source = read_whole(settings[which].source);
    char *said = set_pages_of(source, settings[which].mishap, settings[which].from, settings[which].letter);
    free(source);
    return said;
}

/* Rounded in print, and by the library that sets the letters. */
static const double near_enough = 0.03;

/* The same words, and numbers as far apart as they may be. */
static bool same_line(const char *a, const char *b)
{
    while (*a && *b && *a != '\n' && *b != '\n') {
        if (*a >= '0' && *a <= '9' && *b >= '0' && *b <= '9') {
            char *after_a, *after_b;
            double one = strtod(a, &after_a), two = strtod(b, &after_b);
            bool whole = !memchr(a, '.', (size_t)(after_a - a)) && !memchr(b, '.', (size_t)(after_b - b));
            if (fabs(one - two) > (whole ? 0 : near_enough))
                return false;
            a = after_a;
            b = after_b;
        } else if (*a++ != *b++) {
            return false;
        }
    }
    return (!*a || *a == '\n') && (!*b || *b == '\n');
}

/* Where the record of a page that is set otherwise is left, to be read and, where it is right, kept. */
static const char *now_path(void)
{
    static char path[4096];
    const char *build = getenv("BUILD");
    snprintf(path, sizeof path, "%s/tests/setting.record", build ? build : "build");
    return path;
}

static void keep_now(const char *said)
{
    FILE *now = fopen(now_path(), "wb");
    if (!now)
        return;
    fputs(said, now);
    fclose(now);
}

static const char *after_line(const char *at) { return at + strcspn(at, "\n") + (strchr(at, '\n') != NULL); }

static const char *end_of_page(const char *at)
{
    while (*at && strncmp(at, "---", 3) != 0)
        at = after_line(at);
    return at;
}

/* A line of three dots in the record stands for whatever comes before the page's end. */
static void hold_to(const char *path, const char *said)
{
    char *kept = read_whole(path);
    const char *a = kept, *b = said;
    for (int line = 1; *a || *b; line++) {
        if (strncmp(a, "...\n", 4) == 0) {
            a = after_line(a);
            b = end_of_page(b);
            continue;
        }
        if (!same_line(a, b)) {
            keep_now(said);
            fail_msg("%s:%d (%s is how it is now)\n  was %.*s\n  is  %.*s", path, line, now_path(),
                     (int)strcspn(a, "\n"), a, (int)strcspn(b, "\n"), b);
        }
        a = after_line(a);
        b = after_line(b);
    }
    free(kept);
}

/* Writes one page of what was said: all of it, or as many lines as are kept before three dots. */
static void renew_page(FILE *record_file, const char *kept, const char *said)
{
    const char *end = end_of_page(said), *end_kept = end_of_page(kept);
    for (; said < end; said = after_line(said)) {
        if (kept < end_kept && strncmp(kept, "...\n", 4) == 0) {
            fputs("...\n", record_file);
            break;
        }
        fprintf(record_file, "%.*s", (int)(after_line(said) - said), said);
        kept = kept < end_kept ? after_line(kept) : kept;
    }
    fprintf(record_file, "%.*s", (int)(after_line(end) - end), end);
}

static void renew(const char *path, const char *said)
{
    char *kept = read_whole(path);
    FILE *record_file = fopen(path, "wb");
    assert_non_null(record_file);
    for (const char *old = kept; *said; said = after_line(end_of_page(said))) {
        renew_page(record_file, old, said);
        old = after_line(end_of_page(old));
    }
    assert_int_equal(fclose(record_file), 0);
    free(kept);
}

/* RECORDS=renew writes them anew. */
static void pages_are_set_as_they_were(void **state)
{
    (void)state;
    const char *renewed = getenv("RECORDS");
    for (int which = 0; which < SETTINGS; which++) {
        char *said = set_pages(which);
        if (renewed && strcmp(renewed, "renew") == 0)
            renew(settings[which].record, said);
        hold_to(settings[which].record, said);
        free(said);
    }
}

static bool overlap(const Box *a, const Box *b)
{
    const double touching = 0.4; /* boxes are as high as the highest letters of the font */
    return a->left < b->right - touching && b->left < a->right - touching && a->top < b->bottom - touching
           && b->top < a->bottom - touching;
}

static void nothing_lies_over_another(void)
{
    for (uint32_t i = 0; i < record.text_count; i++) {
        const SetText *a = &record.texts[i];
        for (uint32_t k = i + 1; k < record.text_count && record.texts[k].page == a->page; k++)
            if (overlap(&a->box, &record.texts[k].box))
                fail_msg("page %u: %s (" PRINT_BOX ") over %s (" PRINT_BOX ")", a->page + 1, a->words,
                         BOX_VALUES(a->box), record.texts[k].words, BOX_VALUES(record.texts[k].box));
    }
}

/* Nothing is printed over anything else, out of the page's field, or where a printer does not reach. */
static void every_text_can_be_read(void **state)
{
    (void)state;
    for (int which = 0; which < SETTINGS; which++) {
        double width = settings[which].width, height = settings[which].height;
        free(set_pages(which));
        const Box *drawn = &record.all_drawn;
        /* The triangle of a mark at the end of a piece stands out by half. */
        if (drawn->left < PDF_MARGIN - 1 || drawn->right > width - PDF_MARGIN + 1 || drawn->top < PDF_MARGIN - 0.1
            || drawn->bottom > height - PDF_MARGIN)
            fail_msg("%s: something is drawn out of the field: " PRINT_BOX, settings[which].source,
                     BOX_VALUES(*drawn));
        assert_true(record.text_count > 200 && record.text_count < MOST_TEXTS);
        for (uint32_t i = 0; i < record.text_count; i++) {
            const SetText *a = &record.texts[i];
            /* The number at a ruler's end stands out of the field by half. */
            if (a->box.left < PDF_MARGIN - 1 || a->box.right > width - PDF_MARGIN + 1
                || a->box.top < PDF_MARGIN - 0.1 || a->box.bottom > height - 5)
                fail_msg("page %u: %s at " PRINT_BOX, a->page + 1, a->words, BOX_VALUES(a->box));
        }
        nothing_lies_over_another();
    }
}

/* The first text that begins so. */
static const SetText *text_that_begins(const char *words)
{
    for (uint32_t i = 0; i < record.text_count; i++)
        if (strncmp(record.texts[i].words, words, strlen(words)) == 0)
            return &record.texts[i];
    fail_msg("nothing begins with %s", words);
    return NULL;
}

/* Steps stand in two columns. What is done when all sections are wound goes on below them as long as they take the
 * first alone and leave room; else it has a page of its own. */
static void what_comes_last_stands_below_the_steps(void **state)
{
    (void)state;
    static const char source[] =
        "edition 1\nthread navy { turns: 67 per cm }\n"
        "blank lower { at 0 mm: 14 mm  at 60 cm: 9 mm }\n"
        "blank upper { at 0 mm: 9.8 mm  at 60 cm: 4 mm }\n"
        "rod \"Job\" on [lower, upper] overlap: 5 cm {\n"
        "    at 20 cm { band 60 turns of navy }\n    at 80 cm { band 60 turns of navy }\n"
        "    at 85 cm { band 60 turns of navy }\n    at 90 cm { band 60 turns of navy }\n"
        "    at 95 cm { band 60 turns of navy }\n    at 100 cm { band 60 turns of navy }\n}\n";
    static const struct {
        uint32_t from;
        bool below;
    } cases[] = {{28, true}, {16, true}, {26, false}, {29, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        free(set_pages_of(source, (TurnlayMishap){0}, cases[i].from, false));
        const SetText *last = text_that_begins("All sections are wound");
        nothing_lies_over_another();
        /* The title of a page of its own stands above it. */
        assert_true(cases[i].below ? last->box.top > 30 : last->box.top < 20);
    }
}

/* Pieces of a template stand beside one another where they have room, else below one another. */
static void templates_keep_to_the_field(void **state)
{
    (void)state;
    uint32_t pages[10];
    for (int i = 0; i < 10; i++) {
        char source[400];
        snprintf(source, sizeof source,
                 "edition 1\nthread navy { turns: 67 per cm }\nblank even { at 0 mm: %g mm  at 80 cm: %g mm }\n"
                 "rod \"Job\" on even { at 10 cm length: 60 cm { chevron crossings: 9 ends: 3 mm of navy "
                 "{ strand 1 of navy } } }\n",
                 25 + i / 2.0, 25 + i / 2.0);
        free(set_pages_of(source, (TurnlayMishap){0}, 1, false));
        assert_true(record.all_drawn.right < 210 - PDF_MARGIN + 1);
        pages[i] = record.texts[record.text_count - 1].page;
    }
    assert_true(pages[0] < pages[9]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_runs_give_the_same_bytes),
        cmocka_unit_test(every_request_may_fail_and_nothing_is_left),
        cmocka_unit_test(light_is_written_as_it_is_drawn),
        cmocka_unit_test(letters_on_paper_have_a_limit),
        cmocka_unit_test(texts_are_laid_each_by_its_own_style),
        cmocka_unit_test(feet_side_by_side_lie_as_the_rod_does),
        cmocka_unit_test(labels_with_room_stay_where_they_are),
        cmocka_unit_test(labels_at_one_place_part_evenly),
        cmocka_unit_test(labels_lie_as_near_as_can_be),
        cmocka_unit_test(pages_are_set_as_they_were),
        cmocka_unit_test(every_text_can_be_read),
        cmocka_unit_test(what_comes_last_stands_below_the_steps),
        cmocka_unit_test(templates_keep_to_the_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
