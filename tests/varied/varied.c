/* Texts with slips, patterns with other values, jobs, records and swaps by the thousand, each made of a file by
 * chance, and what the library answers to them, as one number. What is too much to be kept must not change
 * unnoticed.
 *
 *     varied FILE...                 a line for each ten of what is made of a file: how, which, and the number
 *     varied --text NUMBER FILE      that text
 *     varied --values NUMBER FILE    that pattern, and which of its pages are looked at
 *     varied --job NUMBER FILE       that job: what is measured and what goes wrong, what is drawn
 *     varied --record NUMBER FILE    that record of the job
 *     varied --swap NUMBER FILE      what is swapped, and between which threads one looks
 *
 * Chance goes by the file's name, so that another file changes nothing; and no two calls of it stand in one
 * argument list, since compilers differ in which comes first. */
#include "pixels.h"
#include "values.h"

#include <ctype.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TEXTS = 120, VALUES = 30, JOBS = 30, RECORDS = 20, SWAPS = 10, TOGETHER = 10, LARGEST = 20000 };

/* --- files --- */

/* NULL if it is not there. */
static char *read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    char *bytes = file ? calloc(1, 4 * LARGEST) : NULL;
    if (bytes && !fread(bytes, 1, 4 * LARGEST - 1, file))
        bytes[0] = 0;
    if (file)
        fclose(file);
    return bytes;
}

/* Beside the file, or of the standard library. */
static void give_wanted(TurnlayCompilation *made, const char *path)
{
    for (TurnlayWant want; (want = turnlay_want(made)).path;) {
        char place[4096];
        const char *slash = strrchr(path, '/');
        int folder = slash ? (int)(slash - path) : 0;
        bool standard = strncmp(want.path, "std/", 4) == 0;
        if (standard)
            snprintf(place, sizeof place, "stdlib/%s.lay", want.path + 4);
        else
            snprintf(place, sizeof place, "%.*s/%s.lay", folder, path, want.path);
        char *bytes = strstr(want.path, "..") ? NULL : read_file(place);
        if (bytes)
            turnlay_give(made, place, bytes, strlen(bytes));
        else
            turnlay_refuse(made, NULL, TURNLAY_FILE_NOT_FOUND, "it is not there");
        free(bytes);
    }
}

/* --- answers --- */

/* text: or NULL. */
static uint64_t add_words(uint64_t sum, const char *text)
{
    return mixed_in(sum, text ? text : "", text ? strlen(text) : 0);
}

static uint64_t add_page(uint64_t sum, TurnlayStatus status, TurnlayText *page)
{
    sum = with_number(sum, status);
    if (page->bytes)
        sum = mixed_in(sum, page->bytes, page->length);
    turnlay_text_free(page);
    return sum;
}

static uint64_t add_findings(uint64_t sum, TurnlayCompilation *made)
{
    static const TurnlayFormat formats[] = {TURNLAY_JSON, TURNLAY_TEXT};
    TurnlayText page;
    for (int i = 0; i < 2; i++)
        sum = add_page(sum, turnlay_write_findings(made, formats[i], &page), &page);
    return sum;
}

static uint64_t add_plan(uint64_t sum, TurnlayCompilation *made)
{
    TurnlayText page;
    sum = add_page(sum, turnlay_write_plan(made, TURNLAY_JSON, &page), &page);
    sum = add_page(sum, turnlay_write_plan(made, TURNLAY_TEXT, &page), &page);
    return add_page(sum, turnlay_write_need(made, TURNLAY_TEXT, &page), &page);
}

/* --- changed texts --- */

/* What people write where it does not belong, or in other words. */
static const char *const words[] = {
    "0",       "1",       "-1",        "0.5",     "1/2",      "3",         "12",        "60",     "400",
    "1e6",     "mm",      "cm",        "in",      "turns",    "turn",      "%",         "deg",    "wraps",
    "inches",  "m",       "{",         "}",       "(",        ")",         "[",         "]",      ",",
    ";",       ":",       ".",         "=",       "-",        "+",         "*",         "/",      "<",
    ">=",      "and",     "or",        "not",     "band",     "fade",      "inlay",     "gap",    "fill",
    "of",      "to",      "at",        "from",    "until",    "toward",    "butt",      "tip",    "under",
    "over",    "mirror",  "symmetric", "repeat",  "for",      "in",        "if",        "else",   "let",
    "pattern", "require", "use",       "as",      "series",   "chevron",   "diamond",   "spiral", "strand",
    "ends",    "spacer",  "crossings", "starts",  "pointing", "part",      "guide",     "blank",  "rod",
    "thread",  "size",    "bench",     "about",   "edition",  "on",        "like",      "yes",    "no",
    "colour",  "color",   "#22346b",   "navy",    "red",      "length",    "steps",     "by",     "eye",
    "count",   "angle",   "lead",      "spacing", "offset",   "measured",  "every",     "with",   "then",
    "the",     "rows",    "\"x\"",     "nobody",  "here",     "first([])", "min(1, 2)", "mirror", "twice",
    "half",    "ten",     "strands",
};

static const char *const units[] = {"mm", "cm", "in", "m", "ft", "turns", "%", "deg", "", "wraps", "\"", "yd"};

/* A slip within the word: letters swapped, gone, doubled, a capital; of a number its point or its sign. */
static void put_slip(Chance *chance, char *out, const char *token, size_t length)
{
    memcpy(out, token, length);
    out[length] = 0;
    size_t at = below(chance, (uint32_t)length);
    if (isdigit((unsigned char)out[0])) {
        static const char *const before[] = {"-", "0.", "1", "0.0", "9"}, *const after[] = {"0", "00", ".5", "",
                                                                                            " "};
        char number[256];
        const char *front = below(chance, 2) ? ONE_OF(chance, before) : "", *back = ONE_OF(chance, after);
        snprintf(number, sizeof number, "%s%.200s%s", front, out, back);
        strcpy(out, number);
        return;
    }
    switch (below(chance, 4)) {
    case 0:
        if (at + 1 < length) {
            char kept = out[at];
            out[at] = out[at + 1];
            out[at + 1] = kept;
        }
        break;
    case 1: memmove(out + at, out + at + 1, length - at); break;
    case 2: memmove(out + at + 1, out + at, length - at + 1); break;
    default: out[at] = (char)(islower((unsigned char)out[at]) ? toupper((unsigned char)out[at]) : '_'); break;
    }
}

/* One change of the text, which has room for it. */
static void change(Chance *chance, char *text, const Tokens *tokens)
{
    static char made[4 * LARGEST], slip[4096];
    uint32_t which = below(chance, tokens->count), other = below(chance, tokens->count);
    size_t start = tokens->items[which].start, end = tokens->items[which].end, length = end - start;
    size_t start_other = tokens->items[other].start, length_other = tokens->items[other].end - start_other;
    bool last = which + 1 >= tokens->count;
    size_t start_next = last ? end : tokens->items[which + 1].start,
           end_next = last ? end : tokens->items[which + 1].end;
    const char *rest = text + end;
    length = length > 200 ? 200 : length;
    switch (below(chance, 9)) {
    case 0: snprintf(made, sizeof made, "%.*s%s", (int)start, text, rest); break;
    case 1: snprintf(made, sizeof made, "%.*s %s", (int)end, text, text + start); break;
    case 2:
        snprintf(made, sizeof made, "%.*s%.*s %.*s%s", (int)start, text, (int)(end_next - start_next),
                 text + start_next, (int)length, text + start, text + end_next);
        break;
    case 3: snprintf(made, sizeof made, "%.*s%s%s", (int)start, text, ONE_OF(chance, words), rest); break;
    case 4:
        snprintf(made, sizeof made, "%.*s %s %s", (int)start, text, ONE_OF(chance, words), text + start);
        break;
    case 5:
        snprintf(made, sizeof made, "%.*s%.*s%s", (int)start, text, (int)length_other, text + start_other, rest);
        break;
    case 6:
        snprintf(made, sizeof made, "%.*s %.*s %s", (int)start, text, (int)length_other, text + start_other,
                 text + start);
        break;
    case 7:
        put_slip(chance, slip, text + start, length);
        snprintf(made, sizeof made, "%.*s%s%s", (int)start, text, slip, rest);
        break;
    default: /* another number, or another unit for a short word, or none */
        if (isdigit((unsigned char)text[start]))
            snprintf(made, sizeof made, "%.*s7 %s", (int)start, text, rest);
        else if (isalpha((unsigned char)text[start]) && length <= 5)
            snprintf(made, sizeof made, "%.*s%s%s", (int)start, text, ONE_OF(chance, units), rest);
        else
            snprintf(made, sizeof made, "%s", text);
        break;
    }
    snprintf(text, 2 * LARGEST, "%.*s", 2 * LARGEST - 1, made);
}

/* So many changes, one after the other. */
static void change_text(Chance *chance, char *text, uint32_t changes)
{
    static Tokens tokens;
    for (; changes > 0; changes--) {
        find_tokens(text, &tokens);
        if (tokens.count > 2)
            change(chance, text, &tokens);
    }
}

/* Most with one change, some with two or three. */
static void write_text(const char *path, const char *source, uint32_t number, char *text)
{
    Chance chance = chance_of(path, "text", number);
    snprintf(text, 2 * LARGEST, "%s", source);
    uint32_t more = below(&chance, 6);
    change_text(&chance, text, more < 4 ? 1 : more - 2);
}

static uint64_t add_text(uint64_t sum, const char *path, const char *source, uint32_t number)
{
    static char text[2 * LARGEST];
    write_text(path, source, number, text);
    TurnlayCompilation *made = turnlay_new();
    turnlay_give(made, path, text, strlen(text));
    give_wanted(made, path);
    TurnlayStatus status = turnlay_finish(made);
    sum = add_findings(with_number(sum, status), made);
    if (status == TURNLAY_DONE)
        sum = add_plan(sum, made);
    turnlay_free(made);
    return sum;
}

/* --- jobs --- */

/* A step of the sheet: how many turns are made in it, the width that is measured, or 0; whether a loop is drawn.
 */
typedef struct Step {
    uint32_t number, turns;
    double width;
    bool draws;
    const json_t *made; /* of which turns the width is made; NULL without one */
} Step;

typedef struct Steps {
    Step items[MOST_TOKENS];
    uint32_t count;
    json_t *sheet; /* NULL where the file has none */
} Steps;

static void add_step(Steps *steps, const json_t *step)
{
    if (steps->count == MOST_TOKENS)
        return;
    Step *made = &steps->items[steps->count++];
    *made = (Step){(uint32_t)json_integer_value(json_object_get(step, "number")),
                   (uint32_t)json_integer_value(json_object_get(step, "turns")), 0,
                   strcmp(json_string_value(json_object_get(step, "kind")), "draw") == 0, NULL};
    const json_t *actions = json_object_get(step, "actions");
    for (size_t i = 0; i < json_array_size(actions); i++) {
        const json_t *action = json_array_get(actions, i);
        if (!json_is_number(json_object_get(action, "width_mm")))
            continue;
        made->width = json_number_value(json_object_get(action, "width_mm"));
        made->made = json_object_get(action, "made");
    }
}

static void read_steps(TurnlayCompilation *made, Steps *steps)
{
    TurnlayText page;
    steps->count = 0;
    steps->sheet = NULL;
    if (turnlay_write_sheet(made, TURNLAY_JSON, 1, &page) != TURNLAY_DONE)
        return;
    steps->sheet = json_loadb(page.bytes, page.length, 0, NULL);
    size_t r, s, p, n;
    const json_t *rod, *section, *part, *step;
    json_array_foreach(json_object_get(steps->sheet, "rods"), r, rod)
        json_array_foreach(json_object_get(rod, "sections"), s, section)
            json_array_foreach(json_object_get(section, "parts"), p, part)
                json_array_foreach(json_object_get(part, "steps"), n, step) add_step(steps, step);
    turnlay_text_free(&page);
}

static TurnlayCompilation *begin(const char *path, const char *source)
{
    TurnlayCompilation *made = turnlay_new();
    turnlay_give(made, path, source, strlen(source));
    give_wanted(made, path);
    return made;
}

/* The next in which something may happen, most often one with a width. */
static const Step *next_step(Chance *chance, const Steps *steps, uint32_t *at)
{
    *at += below(chance, (steps->count - *at + 1) / 2);
    bool measured = below(chance, 3);
    for (; *at + 1 < steps->count; ++*at) {
        const Step *step = &steps->items[*at];
        if (measured ? step->width > 0 : step->turns || step->draws)
            break;
    }
    return &steps->items[*at];
}

static void measure(Chance *chance, TurnlayCompilation *made, const Step *step, FILE *told)
{
    double wider = (100 + (double)below(chance, 9) - 3) / 100;
    uint32_t turns = below(chance, 6) ? 0 : 1 + below(chance, step->turns + 3);
    TurnlayMeasured measured = {step->number, step->width * wider, turns, below(chance, 2) != 0};
    turnlay_measure(made, measured);
    fprintf(told, "measured %u=%.17gmm turns %u sure %d\n", measured.step, measured.width, turns, measured.sure);
}

static void go_wrong(Chance *chance, TurnlayCompilation *made, const Step *step, FILE *told)
{
    static const TurnlayMishapKind kinds[] = {TURNLAY_BROKE, TURNLAY_BROKE, TURNLAY_SPOOL_EMPTY, TURNLAY_UNWOUND,
                                              TURNLAY_TAG_OUT};
    TurnlayMishap mishap = {.step = step->number};
    mishap.kind = step->draws ? TURNLAY_LOOP_TORN : ONE_OF(chance, kinds);
    mishap.turns = below(chance, step->turns + 2);
    mishap.way = (TurnlayWay)below(chance, TURNLAY_WAY_COUNT);
    turnlay_mishap(made, mishap);
    fprintf(told, "mishap step %u kind %d turns %u way %d\n", mishap.step, (int)mishap.kind, mishap.turns,
            (int)mishap.way);
}

/* One thing most often; in the order of the work. */
static void happen(Chance *chance, TurnlayCompilation *made, const Steps *steps, FILE *told)
{
    uint32_t at = 0;
    for (uint32_t more = below(chance, 5), times = more < 3 ? 1 : more - 1; times > 0; times--) {
        const Step *step = next_step(chance, steps, &at);
        if (step->width > 0 && below(chance, 6))
            measure(chance, made, step, told);
        else
            go_wrong(chance, made, step, told);
    }
}

/* One section of its rods alone, if the first has several. */
static void show_section(Chance *chance, TurnlayCompilation *made, FILE *told)
{
    TurnlaySection section;
    if (turnlay_section(made, 0, below(chance, 4), &section) != TURNLAY_DONE)
        return;
    fprintf(told, "section %s\n", section.name);
    turnlay_show_section(made, section.name);
}

static uint64_t add_sheets(uint64_t sum, Chance *chance, TurnlayCompilation *made, const Steps *steps, FILE *told)
{
    TurnlayText page;
    uint32_t from = below(chance, 3) ? 0 : 1 + below(chance, steps->count);
    fprintf(told, "from step %u\n", from);
    turnlay_show_depth(made, (TurnlayDepth)below(chance, TURNLAY_DEPTH_COUNT));
    if (below(chance, 2))
        show_section(chance, made, told);
    sum = add_page(sum, turnlay_write_sheet(made, TURNLAY_TEXT, from, &page), &page);
    sum = add_page(sum, turnlay_write_sheet(made, below(chance, 2) ? TURNLAY_JSON : TURNLAY_HTML, from, &page),
                   &page);
    return sum;
}

static uint64_t add_drawing(uint64_t sum, Chance *chance, TurnlayCompilation *made, FILE *told)
{
    TurnlayText page;
    TurnlaySummary summary;
    turnlay_summary(made, &summary);
    uint32_t rod = below(chance, summary.rods);
    TurnlayView view = (TurnlayView)below(chance, TURNLAY_VIEW_COUNT);
    static const double scales[] = {0.5, 1, 1, 2.5, 6};
    double scale = ONE_OF(chance, scales), facing = below(chance, 2) ? NAN : below(chance, 24) * 15.0;
    turnlay_show_eyes(made, below(chance, 3) ? TURNLAY_ALL_CONES : (TurnlayEyes)below(chance, TURNLAY_EYES_COUNT));
    fprintf(told, "rod %u view %d scale %g facing %g\n", rod, (int)view, scale, facing);
    if ((view == TURNLAY_ROD || view == TURNLAY_PRESENTATION) && below(chance, 2)) {
        static const double widths[] = {400, 800, 1600, 3200};
        double pixels = ONE_OF(chance, widths);
        fprintf(told, "pixels %g\n", pixels);
        return add_page(sum, draw_pixels(made, rod, view, pixels, &page), &page);
    }
    return add_page(sum, turnlay_write_drawing(made, rod, view, scale, facing, &page), &page);
}

/* --- other values --- */

static uint64_t add_template(uint64_t sum, TurnlayCompilation *made)
{
    TurnlayText page;
    return add_page(sum, turnlay_write_template(made, 0, &page), &page);
}

/* Its plan and one or two pages more. */
static uint64_t add_values(uint64_t sum, const char *path, const char *source, uint32_t number, FILE *told)
{
    static char text[2 * LARGEST];
    Chance chance = chance_of(path, "values", number);
    TurnlayText page;
    snprintf(text, sizeof text, "%s", source);
    change_values(&chance, text, sizeof text, 1 + below(&chance, 3));
    fprintf(told, "%s", text);
    TurnlayCompilation *made = begin(path, text);
    TurnlayStatus status = turnlay_finish(made);
    sum = add_findings(with_number(sum, status), made);
    fprintf(told, "// %s\n", turnlay_status_words(status));
    if (status == TURNLAY_DONE) {
        sum = add_page(sum, turnlay_write_plan(made, number % 2 ? TURNLAY_JSON : TURNLAY_TEXT, &page), &page);
        sum = add_page(sum, turnlay_write_need(made, number % 3 ? TURNLAY_TEXT : TURNLAY_JSON, &page), &page);
        turnlay_show_depth(made, (TurnlayDepth)below(&chance, TURNLAY_DEPTH_COUNT));
        static const TurnlayFormat formats[] = {TURNLAY_TEXT, TURNLAY_JSON, TURNLAY_HTML};
        sum = add_page(sum, turnlay_write_sheet(made, ONE_OF(&chance, formats), 1, &page), &page);
        sum = below(&chance, 6) ? add_drawing(sum, &chance, made, told) : add_template(sum, made);
    }
    turnlay_free(made);
    return sum;
}

/* --- jobs under way --- */

/* Where what was to happen cannot, something else is tried, so often at most. */
enum { TRIES = 4 };

static TurnlayStatus finish_job(Chance *chance, TurnlayCompilation **made, const char *path, const char *source,
                                const Steps *steps, FILE *told)
{
    TurnlayStatus status = TURNLAY_NOT_HAPPENED;
    for (int tries = 0; tries < TRIES && (status == TURNLAY_NOT_HAPPENED || status == TURNLAY_NOT_MEASURED);
         tries++) {
        turnlay_free(*made);
        *made = begin(path, source);
        happen(chance, *made, steps, told);
        status = turnlay_finish(*made);
        fprintf(told, "%s\n", turnlay_status_words(status));
    }
    return status;
}

/* Something that happened, and the pages of it; of each fourth job nothing, and a picture. */
static uint64_t add_job(uint64_t sum, const char *path, const char *source, uint32_t number, const Steps *steps,
                        FILE *told)
{
    Chance chance = chance_of(path, "job", number);
    TurnlayCompilation *made = begin(path, source);
    bool plain = number % 4 == 0;
    TurnlayStatus status = plain ? turnlay_finish(made) : finish_job(&chance, &made, path, source, steps, told);
    sum = with_number(sum, status);
    if (status == TURNLAY_DONE || status == TURNLAY_HAS_ERRORS)
        sum = add_findings(sum, made);
    if (status == TURNLAY_DONE) {
        sum = add_sheets(sum, &chance, made, steps, told);
        sum = plain ? add_drawing(sum, &chance, made, told) : add_plan(sum, made);
    } else {
        sum = add_words(sum, turnlay_mishap_fault(made));
    }
    turnlay_free(made);
    return sum;
}

/* --- records --- */

static json_t *turns_made(const Step *step)
{
    json_t *made = json_array();
    for (size_t i = 0; i < json_array_size(step->made); i++) {
        const json_t *thread = json_array_get(step->made, i);
        json_t *turns = json_object();
        json_object_set(turns, "thread", json_object_get(thread, "thread"));
        json_object_set(turns, "nominal_turn", json_object_get(thread, "nominal_turn_mm"));
        json_object_set(turns, "turns", json_object_get(thread, "turns"));
        json_array_append_new(made, turns);
    }
    return made;
}

static json_t *happening(Chance *chance, const Step *step)
{
    static const char *const mishaps[] = {"broke", "broke", "spool empty", "unwound", "tag out"};
    static const char *const ways[] = {"splice", "restart"};
    if (step->width > 0 && below(chance, 6)) {
        double width = step->width * (100 + (double)below(chance, 9) - 3) / 100;
        int sure = (int)below(chance, 2);
        json_t *made = json_pack("{s:i, s:f, s:b}", "step", (int)step->number, "width", width, "sure", sure);
        if (below(chance, 4))
            json_object_set_new(made, "made", turns_made(step));
        if (!below(chance, 4))
            json_object_set_new(made, "turns", json_integer(1 + below(chance, step->turns + 3)));
        return made;
    }
    const char *kind = step->draws ? "loop torn" : ONE_OF(chance, mishaps);
    int turns = (int)below(chance, step->turns + 2);
    json_t *made = json_pack("{s:i, s:s, s:i}", "step", (int)step->number, "mishap", kind, "turns", turns);
    if (below(chance, 2))
        json_object_set_new(made, "way", json_string(ONE_OF(chance, ways)));
    return made;
}

static json_t *record_of(Chance *chance, const Steps *steps)
{
    json_t *happened = json_array(), *done = json_array(), *notes = json_array(), *lots = json_array();
    uint32_t at = 0, last = steps->items[steps->count - 1].number;
    for (uint32_t more = below(chance, 4); more > 0; more--)
        json_array_append_new(happened, happening(chance, next_step(chance, steps, &at)));
    for (uint32_t from = 1 + below(chance, 5), more = below(chance, 3); more > 0 && from <= last;
         more--, from += 9)
        json_array_append_new(done, json_pack("[i, i]", (int)from, (int)(from + below(chance, 4))));
    for (uint32_t more = below(chance, 3); more > 0; more--)
        json_array_append_new(
            notes, json_pack("{s:i, s:s}", "step", (int)(1 + below(chance, last)), "text", "held well"));
    const json_t *threads = json_object_get(steps->sheet, "threads");
    for (size_t i = 0; i < json_array_size(threads); i++) {
        json_t *name = json_object_get(json_array_get(threads, i), "name");
        if (below(chance, 2))
            json_array_append_new(lots, json_pack("{s:O, s:s}", "thread", name, "lot", "7 b"));
    }
    json_t *record = json_pack("{s:s, s:O, s:s, s:i, s:o, s:o, s:o, s:o}", "turnlay", "record 1", "pattern",
                               json_object_get(steps->sheet, "file_id"), "title", "Job", "at",
                               (int)(1 + below(chance, last + 1)), "done", done, "happened", happened, "lots",
                               lots, "notes", notes);
    if (below(chance, 2)) /* counted before anything happened */
        json_object_set_new(record, "sheet", json_integer(0));
    return record;
}

/* One of three as it should be, the others with a slip or two. */
static void write_record(const char *path, const Steps *steps, uint32_t number, char *text)
{
    Chance chance = chance_of(path, "record", number);
    json_t *record = record_of(&chance, steps);
    char *written = json_dumps(record, JSON_INDENT(1));
    snprintf(text, 2 * LARGEST, "%s", written);
    free(written);
    json_decref(record);
    change_text(&chance, text, number % 3);
}

static uint64_t add_record(uint64_t sum, const char *path, const char *source, uint32_t number, const Steps *steps)
{
    static char text[2 * LARGEST];
    write_record(path, steps, number, text);
    TurnlayCompilation *made = begin(path, source);
    TurnlayText page;
    bool learned = number % 4 == 3;
    TurnlayStatus status = learned ? turnlay_learn_from(made, "kept.json", text, strlen(text))
                                   : turnlay_record(made, "kept.json", text, strlen(text));
    sum = with_number(sum, status);
    status = turnlay_finish(made);
    sum = add_findings(with_number(sum, status), made);
    sum = with_number(sum, turnlay_step_at(made));
    if (status == TURNLAY_DONE) {
        sum = add_page(sum, turnlay_write_sheet(made, TURNLAY_TEXT, 0, &page), &page);
        sum = add_page(sum, turnlay_write_sheet(made, TURNLAY_JSON, 0, &page), &page);
        sum = add_page(sum, turnlay_write_need(made, TURNLAY_JSON, &page), &page);
        sum = add_page(sum, turnlay_write_need(made, TURNLAY_TEXT, &page), &page);
    }
    turnlay_free(made);
    return sum;
}

/* --- swaps, and threads between two --- */

/* Whether the token before is a word that declares what may be swapped. */
static bool is_declared(const char *source, const Tokens *tokens, uint32_t which)
{
    static const char *const declaring[] = {"thread", "guide", "blank", "let"};
    const char *before = which ? source + tokens->items[which - 1].start : "";
    for (size_t i = 0; i < sizeof declaring / sizeof *declaring; i++)
        if (strncmp(before, declaring[i], strlen(declaring[i])) == 0 && before[strlen(declaring[i])] == ' ')
            return true;
    return false;
}

/* Most often a name that the text declares, sometimes what is none. */
static void take_name(Chance *chance, const char *source, const Tokens *tokens, char *name)
{
    static const char *const others[] = {"#7a1f5c", "teal", "#12", "nobody", "shop.navy", "band"};
    strcpy(name, ONE_OF(chance, others));
    uint32_t names = 0;
    for (uint32_t i = 0; i < tokens->count; i++)
        names += is_declared(source, tokens, i);
    uint32_t which = below(chance, names);
    bool declared = names && below(chance, 8);
    for (uint32_t i = 0; declared && i < tokens->count; i++)
        if (is_declared(source, tokens, i) && which-- == 0) {
            size_t length = tokens->items[i].end - tokens->items[i].start;
            snprintf(name, 100, "%.*s", (int)(length < 99 ? length : 99), source + tokens->items[i].start);
            return;
        }
}

static uint64_t add_swap(uint64_t sum, const char *path, const char *source, uint32_t number, FILE *told)
{
    static Tokens tokens;
    char one[100], other[100];
    Chance chance = chance_of(path, "swap", number);
    TurnlayCompilation *made = begin(path, source);
    TurnlayText page;
    find_tokens(source, &tokens);
    for (uint32_t times = 1 + !below(&chance, 4); times > 0; times--) {
        take_name(&chance, source, &tokens, one);
        take_name(&chance, source, &tokens, other);
        fprintf(told, "%s=%s\n", one, other);
        sum = with_number(sum, turnlay_swap(made, one, other));
    }
    if (!below(&chance, 4))
        turnlay_strict(made);
    TurnlayStatus status = turnlay_finish(made);
    fprintf(told, "%s\n", turnlay_status_words(status));
    sum = add_words(with_number(sum, status), turnlay_swap_fault(made));
    if (status == TURNLAY_DONE || status == TURNLAY_HAS_ERRORS)
        sum = add_findings(sum, made);
    if (status == TURNLAY_DONE) {
        sum = add_page(sum, turnlay_write_plan(made, TURNLAY_JSON, &page), &page);
        take_name(&chance, source, &tokens, one);
        take_name(&chance, source, &tokens, other);
        fprintf(told, "between %s and %s\n", one, other);
        sum = with_number(sum, turnlay_show_between(made, one, other));
        sum = add_words(sum, turnlay_between_fault(made));
        sum = add_page(sum, turnlay_write_shades(made, TURNLAY_TEXT, &page), &page);
        sum = add_page(sum, turnlay_write_shades_drawing(made, &page), &page);
    }
    turnlay_free(made);
    return sum;
}

/* --- a file --- */

typedef enum { TEXT, VALUE, JOB, RECORD, SWAP, KIND_COUNT } Kind;

static const struct {
    const char *name, *asked;
    uint32_t count;
    bool of_steps; /* of those that a sheet has */
} kinds[KIND_COUNT] = {
    {"texts", "--text", TEXTS, false},      {"values", "--values", VALUES, true}, {"jobs", "--job", JOBS, true},
    {"records", "--record", RECORDS, true}, {"swaps", "--swap", SWAPS, true},
};

static uint64_t add_one(uint64_t sum, Kind kind, const char *path, const char *source, uint32_t number,
                        const Steps *steps, FILE *told)
{
    switch (kind) {
    case TEXT: return add_text(sum, path, source, number);
    case VALUE: return add_values(sum, path, source, number, told);
    case JOB: return add_job(sum, path, source, number, steps, told);
    case RECORD: return add_record(sum, path, source, number, steps);
    default: return add_swap(sum, path, source, number, told);
    }
}

/* Its steps, if it can be wound. */
static void look_at(const char *path, const char *source, Steps *steps)
{
    TurnlayCompilation *made = begin(path, source);
    *steps = (Steps){.count = 0};
    if (turnlay_finish(made) == TURNLAY_DONE)
        read_steps(made, steps);
    turnlay_free(made);
}

static void say_sums(const char *path, const char *source, FILE *nowhere)
{
    static Steps steps;
    look_at(path, source, &steps);
    for (Kind kind = 0; kind < KIND_COUNT; kind++)
        for (uint32_t first = 0; first < kinds[kind].count && (steps.count || !kinds[kind].of_steps);
             first += TOGETHER) {
            uint64_t sum = NOTHING_YET;
            for (uint32_t i = first; i < first + TOGETHER; i++)
                sum = add_one(sum, kind, path, source, i, &steps, nowhere);
            printf("%s %u of %s: %016llx\n", kinds[kind].name, first, path, (unsigned long long)sum);
        }
    json_decref(steps.sheet);
    fflush(stdout);
}

static void show(const char *asked, uint32_t number, const char *path, const char *source)
{
    static char text[2 * LARGEST] = "";
    static Steps steps;
    look_at(path, source, &steps);
    if (strcmp(asked, kinds[TEXT].asked) == 0)
        write_text(path, source, number, text);
    else if (strcmp(asked, kinds[RECORD].asked) == 0 && steps.count)
        write_record(path, &steps, number, text);
    fputs(text, stdout);
    for (Kind kind = VALUE; kind < KIND_COUNT; kind++)
        if (strcmp(asked, kinds[kind].asked) == 0 && steps.count)
            add_one(NOTHING_YET, kind, path, source, number, &steps, stdout);
    json_decref(steps.sheet);
}

int main(int count, char **arguments)
{
    bool shown = count == 4 && strncmp(arguments[1], "--", 2) == 0;
    FILE *nowhere = fopen("/dev/null", "w");
    for (int i = shown ? 3 : 1; i < count; i++) {
        char *source = read_file(arguments[i]);
        if (!source || strlen(source) > LARGEST) {
            fprintf(stderr, "%s cannot be read\n", arguments[i]);
            return 2;
        }
        if (shown)
            show(arguments[1], (uint32_t)atoi(arguments[2]), arguments[i], source);
        else
            say_sums(arguments[i], source, nowhere);
        free(source);
    }
    fclose(nowhere);
    return 0;
}
