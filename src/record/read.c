/* A record as its schema has it, member by member. */
#include "base/limits.h"
#include "base/visible.h"
#include "record/json.h"
#include "record/record.h"

#include <string.h>

#define MOST_TURNS INT32_MAX
/* A width below a thousandth of a micrometre is none. */
#define LEAST_LENGTH 1e-6
#define MOST_LENGTH (LIMIT_MEASURED - 1)

/* What an object is read into, and the reader of one member of it. */
typedef struct RecordReader {
    Json json;
    Record *record;
    RecordedEvent *event;
    RecordedTurns *turns;
    RecordedLot *lot;
    RecordedNote *note;
    LIST_OF(RecordedTurns) made; /* of the event at hand */
    uint64_t given;              /* members of the object read last, bit by bit */
    bool sheet_given;            /* the record says on which sheet its steps are counted */
} RecordReader;

typedef struct Member {
    const char *name;
    bool (*read)(RecordReader *reader, const char *name);
    bool needed;
} Member;

/* --- objects by their table --- */

static int member_named(const Member *members, int count, const char *name)
{
    for (int i = 0; i < count; i++)
        if (strcmp(members[i].name, name) == 0)
            return i;
    return -1;
}

static bool read_member(RecordReader *reader, const Member *members, int count, uint64_t *given)
{
    Json *json = &reader->json;
    const char *key;
    Span span;
    if (!json_key(json, &key, &span))
        return false;
    int member = member_named(members, count, key);
    const char *shown = visible(json->findings->words, key);
    if (member < 0)
        return json_refuse(json, span, "a record has no `%s` here", shown);
    if (*given >> member & 1)
        return json_refuse(json, span, "`%s` is given twice", shown);
    *given |= (uint64_t)1 << member;
    return members[member].read(reader, members[member].name);
}

static bool read_object(RecordReader *reader, const char *name, const Member *members, int count)
{
    Json *json = &reader->json;
    Span span = json_here(json);
    uint64_t given = 0;
    if (!json_open(json, '{', name))
        return false;
    while (json_more(json, '}'))
        read_member(reader, members, count, &given);
    reader->given = given;
    for (int i = 0; i < count && !json->broken; i++)
        if (members[i].needed && !(given >> i & 1))
            return json_refuse(json, span, "`%s` is missing here", members[i].name);
    return !json->broken;
}
#define READ_OBJECT(reader, name, members)                                                                        \
    read_object(reader, name, members, (int)(sizeof(members) / sizeof *(members)))

/* A list of objects or whatever `one` reads. */
static bool read_list(RecordReader *reader, const char *name, uint32_t most,
                      bool (*one)(RecordReader *reader, const char *name))
{
    Json *json = &reader->json;
    uint32_t count = 0;
    if (!json_open(json, '[', name))
        return false;
    while (json_more(json, ']')) {
        if (count++ == most)
            return json_refuse(json, json_here(json), "`%s` has more than %u entries", name, (unsigned)most);
        one(reader, name);
    }
    return !json->broken;
}

static bool line(RecordReader *reader, const char *name, const char **text)
{
    return json_text(&reader->json, name, LIMIT_RECORD_LINE, text);
}

static bool step(RecordReader *reader, const char *name, uint32_t *number)
{
    return json_whole(&reader->json, name, 1, MOST_TURNS, number);
}

static bool length(RecordReader *reader, const char *name, double least, double *mm)
{
    return json_number(&reader->json, name, least, MOST_LENGTH, mm);
}

/* --- turns that a width is made of --- */

/* A thread's name, and where it stands. */
static bool thread(RecordReader *reader, const char *name, const char **text, Span *span)
{
    *span = json_here(&reader->json);
    bool read = line(reader, name, text);
    span->end = reader->json.at;
    return read;
}

static bool turns_thread(RecordReader *reader, const char *name)
{
    return thread(reader, name, &reader->turns->thread, &reader->turns->span);
}
static bool turns_nominal(RecordReader *reader, const char *name)
{
    return length(reader, name, LEAST_LENGTH, &reader->turns->nominal);
}
static bool turns_turns(RecordReader *reader, const char *name)
{
    return json_whole(&reader->json, name, 1, MOST_TURNS, &reader->turns->turns);
}

static bool read_turns(RecordReader *reader, const char *name)
{
    static const Member members[] = {
        {"thread", turns_thread, true}, {"nominal_turn", turns_nominal, true}, {"turns", turns_turns, true}};
    reader->turns = LIST_ADD(reader->json.arena, &reader->made);
    *reader->turns = (RecordedTurns){0};
    return READ_OBJECT(reader, name, members);
}

/* --- what happened --- */

static bool event_step(RecordReader *reader, const char *name) { return step(reader, name, &reader->event->step); }
static bool event_width(RecordReader *reader, const char *name)
{
    return length(reader, name, LEAST_LENGTH, &reader->event->width);
}
static bool event_turns(RecordReader *reader, const char *name)
{
    return json_whole(&reader->json, name, 0, MOST_TURNS, &reader->event->turns);
}
static bool event_sure(RecordReader *reader, const char *name)
{
    return json_truth(&reader->json, name, &reader->event->sure);
}
static bool event_gaps(RecordReader *reader, const char *name)
{
    return length(reader, name, 0, &reader->event->gaps);
}
static bool event_wrap(RecordReader *reader, const char *name)
{
    return json_whole(&reader->json, name, 1, MOST_TURNS, &reader->event->wrap);
}
static bool event_sheet(RecordReader *reader, const char *name)
{
    return json_whole(&reader->json, name, 0, LIMIT_RECORD_ENTRIES, &reader->event->sheet);
}
static bool event_made(RecordReader *reader, const char *name)
{
    return read_list(reader, name, LIMIT_LEARNED, read_turns);
}

/* Which of the words it is. */
static bool choice(RecordReader *reader, const char *name, const char *const *words, uint32_t count,
                   uint32_t *chosen)
{
    Span span = json_here(&reader->json);
    const char *text;
    if (!line(reader, name, &text))
        return false;
    for (uint32_t i = 1; i < count; i++)
        if (strcmp(words[i], text) == 0) {
            *chosen = i;
            return true;
        }
    return json_refuse(&reader->json, span, "`%s` is none of the words that it may be", name);
}

static bool event_mishap(RecordReader *reader, const char *name)
{
    static const char *const words[] = {
#define X(name, word) [RECORDED_##name] = word,
        RECORDED_TABLE(X)
#undef X
    };
    uint32_t kind = 0;
    if (!choice(reader, name, words, RECORDED_COUNT, &kind))
        return false;
    reader->event->kind = (RecordedKind)kind;
    return true;
}

static bool event_way(RecordReader *reader, const char *name)
{
    static const char *const words[] = {
        [RECORDED_EITHER] = "", [RECORDED_SPLICE] = "splice", [RECORDED_RESTART] = "restart"};
    uint32_t way = 0;
    if (!choice(reader, name, words, RECORDED_WAY_COUNT, &way))
        return false;
    reader->event->way = (RecordedWay)way;
    return true;
}

/* Members of what happened: of each, of a width, of a mishap. */
#define EVENT_TABLE(X)                                                                                            \
    X(STEP, "step", event_step, true)                                                                             \
    X(TURNS, "turns", event_turns, false)                                                                         \
    X(SHEET, "sheet", event_sheet, false)                                                                         \
    X(WIDTH, "width", event_width, false)                                                                         \
    X(SURE, "sure", event_sure, false)                                                                            \
    X(MADE, "made", event_made, false)                                                                            \
    X(GAPS, "gaps", event_gaps, false)                                                                            \
    X(WRAP, "wrap", event_wrap, false)                                                                            \
    X(MISHAP, "mishap", event_mishap, false)                                                                      \
    X(WAY, "way", event_way, false)

enum {
#define X(name, ...) EVENT_##name,
    EVENT_TABLE(X)
#undef X
        OF_MISHAPS = 1u << EVENT_MISHAP | 1u << EVENT_WAY,
    OF_WIDTHS = 1u << EVENT_WIDTH | 1u << EVENT_SURE | 1u << EVENT_MADE | 1u << EVENT_GAPS | 1u << EVENT_WRAP
};

/* A width has what belongs to a width, a mishap what belongs to a mishap. */
static bool is_one_of_both(RecordReader *reader)
{
    uint64_t given = reader->given;
    Span span = reader->event->span;
    bool width = given >> EVENT_WIDTH & 1, mishap = given >> EVENT_MISHAP & 1;
    if (width == mishap || given & (width ? OF_MISHAPS : OF_WIDTHS))
        return json_refuse(&reader->json, span,
                           "here stands something of a width and something of a mishap, or neither");
    if (given >> EVENT_MADE & 1 && !(given >> EVENT_WRAP & 1))
        return json_refuse(&reader->json, span, "`wrap` is missing here");
    return true;
}

static bool read_event(RecordReader *reader, const char *name)
{
    static const Member members[] = {
#define X(name, ...) [EVENT_##name] = {__VA_ARGS__},
        EVENT_TABLE(X)
#undef X
    };
    Json *json = &reader->json;
    uint32_t before = reader->record->happened.count;
    reader->event = LIST_ADD(json->arena, &reader->record->happened);
    *reader->event = (RecordedEvent){.sheet = before, .span = json_here(json)};
    reader->made.items = NULL;
    reader->made.count = reader->made.room = 0;
    if (!READ_OBJECT(reader, name, members))
        return false;
    reader->event->span.end = json->at;
    reader->event->made = reader->made.items;
    reader->event->made_count = reader->made.count;
    if (reader->event->sheet > before)
        return json_refuse(json, reader->event->span, "`sheet` is more than there are things before it");
    return is_one_of_both(reader);
}

/* --- lots, notes, steps --- */

static bool lot_thread(RecordReader *reader, const char *name)
{
    return thread(reader, name, &reader->lot->thread, &reader->lot->span);
}
static bool lot_lot(RecordReader *reader, const char *name) { return line(reader, name, &reader->lot->lot); }

static bool read_lot(RecordReader *reader, const char *name)
{
    static const Member members[] = {{"thread", lot_thread, true}, {"lot", lot_lot, true}};
    reader->lot = LIST_ADD(reader->json.arena, &reader->record->lots);
    *reader->lot = (RecordedLot){.thread = ""};
    return READ_OBJECT(reader, name, members);
}

static bool note_step(RecordReader *reader, const char *name)
{
    reader->note->span = json_here(&reader->json);
    return step(reader, name, &reader->note->step);
}
static bool note_text(RecordReader *reader, const char *name)
{
    return json_text(&reader->json, name, LIMIT_RECORD_NOTE, &reader->note->text);
}
static bool note_date(RecordReader *reader, const char *name) { return line(reader, name, &reader->note->date); }

static bool read_note(RecordReader *reader, const char *name)
{
    static const Member members[] = {
        {"step", note_step, true}, {"text", note_text, true}, {"date", note_date, false}};
    reader->note = LIST_ADD(reader->json.arena, &reader->record->notes);
    *reader->note = (RecordedNote){.date = ""};
    return READ_OBJECT(reader, name, members);
}

/* First and last of a row of steps; the page alone needs all rows. */
static bool read_row(RecordReader *reader, const char *name)
{
    Json *json = &reader->json;
    Span span = json_here(json);
    uint32_t ends[2] = {0, 0}, count = 0;
    if (!json_open(json, '[', name))
        return false;
    for (uint32_t spare; json_more(json, ']'); count++)
        step(reader, name, count < 2 ? &ends[count] : &spare);
    if (count != 2 || ends[0] > ends[1])
        return json_refuse(json, span, "`%s` should have the first and the last of a row of steps here", name);
    if (ends[1] > reader->record->done) {
        reader->record->done = ends[1];
        reader->record->done_span = span;
    }
    return !json->broken;
}

/* --- all of it --- */

static bool its_version(RecordReader *reader, const char *name)
{
    Span span = json_here(&reader->json);
    const char *text;
    if (!line(reader, name, &text))
        return false;
    if (strcmp(text, "record 1") == 0)
        return true;
    return json_refuse(&reader->json, span, "this is no record that turnlay reads: `%s` should be \"record 1\"",
                       name);
}

static bool its_pattern(RecordReader *reader, const char *name)
{
    Record *record = reader->record;
    record->pattern_span = json_here(&reader->json);
    bool read = line(reader, name, &record->pattern);
    record->pattern_span.end = reader->json.at;
    return read;
}
static bool its_title(RecordReader *reader, const char *name)
{
    return line(reader, name, &reader->record->title);
}
static bool its_at(RecordReader *reader, const char *name)
{
    reader->record->at_span = json_here(&reader->json);
    return step(reader, name, &reader->record->at);
}
static bool its_sheet(RecordReader *reader, const char *name)
{
    reader->sheet_given = true;
    return json_whole(&reader->json, name, 0, LIMIT_RECORD_ENTRIES, &reader->record->sheet);
}
static bool its_done(RecordReader *reader, const char *name)
{
    return read_list(reader, name, LIMIT_RECORD_ENTRIES, read_row);
}
static bool its_happened(RecordReader *reader, const char *name)
{
    return read_list(reader, name, LIMIT_RECORD_ENTRIES, read_event);
}
static bool its_lots(RecordReader *reader, const char *name)
{
    return read_list(reader, name, LIMIT_RECORD_ENTRIES, read_lot);
}
static bool its_notes(RecordReader *reader, const char *name)
{
    return read_list(reader, name, LIMIT_RECORD_ENTRIES, read_note);
}

const Record *record_read(Arena *arena, const Sources *sources, uint32_t file, Findings *findings)
{
    static const Member members[] = {{"turnlay", its_version, true},    {"pattern", its_pattern, true},
                                     {"title", its_title, false},       {"at", its_at, false},
                                     {"sheet", its_sheet, false},       {"done", its_done, false},
                                     {"happened", its_happened, false}, {"lots", its_lots, false},
                                     {"notes", its_notes, false}};
    Record *record = arena_take(arena, sizeof *record);
    *record = (Record){.title = ""};
    RecordReader reader = {.json = json_start(arena, sources, file, findings), .record = record};
    Json *json = &reader.json;
    Span span = json_here(json);
    if (!READ_OBJECT(&reader, "a record", members) || !json_end(json))
        return NULL;
    if (!reader.sheet_given)
        record->sheet = record->happened.count;
    if (record->sheet <= record->happened.count)
        return record;
    json_refuse(json, span, "`sheet` is more than there are things in `happened`");
    return NULL;
}
