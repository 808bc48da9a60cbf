/* Records of jobs: this one's, with which it goes on, and that of another, which teaches what its threads are
 * like. */
#include "recorded.h"

#include "base/halfway.h"
#include "base/limits.h"
#include "base/sort.h"
#include "base/units.h"
#include "base/visible.h"
#include "plan/earlier.h"
#include "plan/turns_so_far.h"
#include "words/step_letters.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- what is given --- */

static TurnlayStatus add_record(Compilation *compilation, GivenRecord *given, const char *path, const char *bytes,
                                size_t length)
{
    char *copy = arena_take(&compilation->arena, length + 1);
    if (length)
        memcpy(copy, bytes, length);
    *given = (GivenRecord){
        .path = text_of_string(&compilation->texts, path)->bytes, .bytes = copy, .length = (uint32_t)length};
    return TURNLAY_DONE;
}

/* Of one that is too large only the beginning is kept: it is refused by its length. */
static TurnlayStatus take_record(Compilation *compilation, RecordOf of, const char *path, const char *bytes,
                                 size_t length)
{
    TurnlayStatus status = path && (bytes || !length) ? status_while_reading(compilation) : TURNLAY_NULL_GIVEN;
    if (status != TURNLAY_DONE)
        return status;
    if (compilation->records[of].path)
        return TURNLAY_WRONG_ORDER;
    size_t kept = length > LIMIT_RECORD_BYTES ? LIMIT_RECORD_BYTES + 1 : length;
    RETURN_GUARDED(compilation, add_record(compilation, &compilation->records[of], path, bytes, kept));
}

TurnlayStatus turnlay_record(Compilation *compilation, const char *path, const char *bytes, size_t length)
{
    return take_record(compilation, RECORD_OF_THIS, path, bytes, length);
}

TurnlayStatus turnlay_learn_from(Compilation *compilation, const char *path, const char *bytes, size_t length)
{
    return take_record(compilation, RECORD_OF_ANOTHER, path, bytes, length);
}

uint32_t turnlay_step_at(const Compilation *compilation)
{
    const Record *record = compilation ? compilation->records[RECORD_OF_THIS].record : NULL;
    return record ? compilation->records[RECORD_OF_THIS].at : 0;
}

/* --- reading --- */

/* It stands among the sources, so that findings show its lines. */
static void read_record(Compilation *compilation, GivenRecord *given)
{
    bool marked = given->length >= 3 && memcmp(given->bytes, "\xef\xbb\xbf", 3) == 0;
    bool large = given->length > LIMIT_RECORD_BYTES;
    given->file = compilation->sources.list.count;
    *LIST_ADD(&compilation->arena, &compilation->sources.list) =
        (Source){.path = given->path,
                 .use_path = text_of_string(&compilation->texts, "")->bytes,
                 .bytes = large ? "" : given->bytes + (marked ? 3 : 0),
                 .length = large ? 0 : given->length - (marked ? 3 : 0)};
    if (!large) {
        given->record =
            record_read(&compilation->arena, &compilation->sources, given->file, &compilation->findings);
        return;
    }
    Finding *finding = finding_add(&compilation->findings, FINDING_NO_RECORD, (Span){0, 0, given->file},
                                   "this record is larger than %u MiB", LIMIT_RECORD_BYTES >> 20);
    finding_mend(&compilation->findings, finding, "check that it is the right file");
}

void read_records(Compilation *compilation)
{
    compilation->sources.pattern_files = compilation->sources.list.count;
    for (int i = 0; i < RECORDS; i++)
        if (compilation->records[i].path)
            read_record(compilation, &compilation->records[i]);
}

/* --- this job's --- */

static bool is_of_this(Compilation *compilation, const Record *record)
{
    Findings *findings = &compilation->findings;
    const char *mark = pattern_mark(findings->words, compilation->job->pattern_hash);
    if (strcmp(record->pattern, mark) == 0)
        return true;
    const char *title =
        *record->title ? finding_text(findings, " of %s", visible(findings->words, record->title)) : "";
    Finding *finding = finding_add(findings, FINDING_RECORD_FOREIGN, record->pattern_span,
                                   "this record%s belongs to another file: that is %s, and this one %s", title,
                                   visible(findings->words, record->pattern), mark);
    finding_mend(
        findings, finding,
        "give it with the file as it was when the job was begun, and with the same `--swap`; to begin another "
        "job from what it taught, give it as `--learned`");
    return false;
}

_Static_assert((int)RECORDED_SPOOL_EMPTY - (int)RECORDED_BROKE == TURNLAY_SPOOL_EMPTY
                   && (int)RECORDED_UNWOUND - (int)RECORDED_BROKE == TURNLAY_UNWOUND
                   && (int)RECORDED_LOOP_TORN - (int)RECORDED_BROKE == TURNLAY_LOOP_TORN
                   && (int)RECORDED_TAG_OUT - (int)RECORDED_BROKE == TURNLAY_TAG_OUT
                   && (int)RECORDED_SPLICE == TURNLAY_WAY_SPLICE && (int)RECORDED_RESTART == TURNLAY_WAY_RESTART,
               "the same in the same order");

static TurnlayMishap mishap_of(const RecordedEvent *event)
{
    return (TurnlayMishap){.step = event->step,
                           .kind = (TurnlayMishapKind)(event->kind - RECORDED_BROKE),
                           .turns = event->turns,
                           .way = (TurnlayWay)event->way};
}

RecordedEvent event_of_mishap(const TurnlayMishap *mishap)
{
    return (RecordedEvent){.step = mishap->step,
                           .kind = (RecordedKind)(RECORDED_BROKE + (int)mishap->kind),
                           .turns = mishap->turns,
                           .way = (RecordedWay)mishap->way};
}

/* What happened by the record comes before what was given beside it. */
static void take_happened(Compilation *compilation, const Record *record)
{
    uint32_t count = record->happened.count, more = compilation->happened.count;
    const Happening *given = compilation->happened.items;
    if (count + more > LIMIT_READINGS) {
        Finding *finding =
            finding_add(&compilation->findings, FINDING_RECORD_VALUE, record->pattern_span,
                        "with what is given beside this record, more than %u things happened", LIMIT_READINGS);
        finding_mend(&compilation->findings, finding, "give fewer");
        return;
    }
    compilation->happened.items = NULL;
    compilation->happened.count = compilation->happened.room = 0;
    for (uint32_t i = 0; i < count; i++) {
        const RecordedEvent *event = &record->happened.items[i];
        bool is_mishap = event->kind != RECORDED_MEASURED;
        *LIST_ADD(&compilation->arena, &compilation->happened) =
            (Happening){.is_mishap = is_mishap, .recorded = event->span, .back = i - event->sheet};
        Happening *happening = &compilation->happened.items[i];
        if (is_mishap)
            happening->mishap = mishap_of(event);
        else
            happening->measured = (TurnlayMeasured){event->step, event->width, event->turns, event->sure};
    }
    for (uint32_t i = 0; i < more; i++)
        *LIST_ADD(&compilation->arena, &compilation->happened) = given[i];
}

static int by_step(const void *one, const void *other)
{
    const RecordedNote *a = one, *b = other;
    int order = ORDER(a->step, b->step);
    return order ? order : ORDER(a->span.start, b->span.start);
}

static void take_notes(Compilation *compilation, const Record *record)
{
    uint32_t count = record->notes.count;
    if (!count)
        return;
    RecordedNote *notes = arena_copy(&compilation->arena, record->notes.items, count * sizeof *notes);
    qsort(notes, count, sizeof *notes, by_step);
    compilation->job->notes = notes;
    compilation->job->note_count = count;
}

/* --- threads by their names --- */

typedef struct NamedThreads {
    const Thread **items; /* by the address of their names, those of one name in order of declaration */
    uint32_t count;
} NamedThreads;

static int by_name(const void *one, const void *other)
{
    const Thread *a = *(const Thread *const *)one, *b = *(const Thread *const *)other;
    int order = ORDER((uintptr_t)a->name, (uintptr_t)b->name);
    return order ? order : ORDER(a->index, b->index);
}

static NamedThreads named_threads(Arena *arena, const Job *job)
{
    NamedThreads named = {arena_take_many(arena, job->thread_count, sizeof *named.items), job->thread_count};
    for (uint32_t i = 0; i < named.count; i++)
        named.items[i] = job->threads[i];
    if (named.count)
        qsort(named.items, named.count, sizeof *named.items, by_name);
    return named;
}

/* The first of that name; as many as there are where none has it. */
static uint32_t first_named(const NamedThreads *named, const Text *name)
{
    uint32_t low = 0, high = named->count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if ((uintptr_t)named->items[middle]->name < (uintptr_t)name)
            low = middle + 1;
        else
            high = middle;
    }
    return low < named->count && named->items[low]->name == name ? low : named->count;
}

typedef struct Told {
    LIST_OF(const Text *) names; /* of threads that were told of already */
} Told;

/* NULL where it was told already, or nothing more is. */
static Finding *tell_thread(Compilation *compilation, Told *told, const Text *name, Span span, const char *why)
{
    Findings *findings = &compilation->findings;
    for (uint32_t i = 0; i < told->names.count; i++)
        if (told->names.items[i] == name)
            return NULL;
    if (findings_full(findings))
        return NULL;
    *LIST_ADD(&compilation->arena, &told->names) = name;
    return finding_add(findings, FINDING_RECORD_THREAD, span, "%s: %s", visible(findings->words, name->bytes),
                       why);
}

static void take_lots(Compilation *compilation, const Record *record, const NamedThreads *named)
{
    Job *job = compilation->job;
    Told told = {0};
    if (record->lots.count)
        job->lots = arena_take_many(&compilation->arena, job->thread_count, sizeof *job->lots);
    for (uint32_t i = 0; i < record->lots.count; i++) {
        const RecordedLot *lot = &record->lots.items[i];
        const Text *name = text_of_string(&compilation->texts, lot->thread);
        uint32_t first = first_named(named, name);
        Finding *finding = first < named->count
                               ? NULL
                               : tell_thread(compilation, &told, name, lot->span,
                                             "no thread of this job is called so; its lot is not shown");
        if (finding)
            finding_mend(&compilation->findings, finding, "write the lot to a thread that the sheet names");
        for (; first < named->count && named->items[first]->name == name; first++)
            job->lots[named->items[first]->index] = lot->lot;
    }
}

/* --- another's --- */

/* Within three standard uncertainties it may be the same thread: of a normal distribution all but three in a
 * thousand are. What is printed has six decimals. */
#define SAME_THREAD 3.0
#define PRINTED 1e-6

static bool may_be_same(const Thread *thread, double nominal)
{
    return fabs(nominal - thread->pitch) <= SAME_THREAD * thread->uncertainty * thread->pitch + PRINTED;
}

/* The thread of this job that these turns were of; NULL, and told, if there is none. */
static const Thread *thread_of(Compilation *compilation, const NamedThreads *named, const RecordedTurns *turns,
                               Told *told)
{
    const Text *name = text_of_string(&compilation->texts, turns->thread);
    uint32_t first = first_named(named, name), i = first;
    for (; i < named->count && named->items[i]->name == name; i++)
        if (may_be_same(named->items[i], turns->nominal))
            return named->items[i];
    Findings *findings = &compilation->findings;
    UnitSystem units = compilation->job->bench.units;
    const char *why = "no thread of this job is called so; what the record says of it is left";
    if (i > first)
        why = finding_text(findings,
                           "a turn of it takes %s here and took %s there: that is another thread, and what the "
                           "record says of it is left",
                           show_fine(findings->words, units, named->items[first]->pitch),
                           show_fine(findings->words, units, turns->nominal));
    Finding *finding = tell_thread(compilation, told, name, turns->span, why);
    if (finding)
        finding_mend(findings, finding,
                     "if it is the same thread, call it the same and count its turns again; else leave it so");
    return NULL;
}

/* All its turns are of this job's threads. */
static bool earlier_width(Compilation *compilation, const NamedThreads *named, const RecordedEvent *event,
                          Told *told, EarlierWidth *width)
{
    EarlierTurns *made = arena_take_many(&compilation->arena, event->made_count, sizeof *made);
    bool all = event->made_count > 0;
    for (uint32_t i = 0; i < event->made_count; i++) {
        made[i].thread = thread_of(compilation, named, &event->made[i], told);
        made[i].turns = event->made[i].turns;
        all = all && made[i].thread;
    }
    *width = (EarlierWidth){made, event->made_count, event->width - event->gaps, event->wrap, event->sure};
    return all && width->width > 0;
}

static void take_known(Compilation *compilation, const Record *record, const NamedThreads *named)
{
    EarlierWidth *widths = arena_take_many(&compilation->arena, record->happened.count, sizeof *widths);
    uint32_t count = 0;
    Told told = {0};
    for (uint32_t i = 0; i < record->happened.count; i++)
        count += earlier_width(compilation, named, &record->happened.items[i], &told, &widths[count]);
    Job *job = compilation->job;
    job->known = known_from(&compilation->arena, job, widths, count);
    job->known.from = *record->title ? record->title : "another job";
    if (job->known.count)
        return;
    Finding *finding = finding_add(&compilation->findings, FINDING_RECORD_TEACHES_NOTHING, record->pattern_span,
                                   "this record teaches nothing of this job's threads");
    finding_mend(&compilation->findings, finding,
                 "give the record of a job with the same threads in which widths were measured, or leave it out");
}

void take_records(Compilation *compilation)
{
    const Record *own = compilation->records[RECORD_OF_THIS].record;
    const Record *other = compilation->records[RECORD_OF_ANOTHER].record;
    if (compilation->findings.errors || (!own && !other))
        return;
    NamedThreads named = named_threads(&compilation->arena, compilation->job);
    if (other)
        take_known(compilation, other, &named);
    if (!own || !is_of_this(compilation, own))
        return;
    take_happened(compilation, own);
    take_notes(compilation, own);
    take_lots(compilation, own, &named);
}

/* --- steps that are none --- */

static void no_step(Compilation *compilation, Span span, const char *what, uint32_t step)
{
    Findings *findings = &compilation->findings;
    Finding *finding = finding_add(findings, FINDING_RECORD_STEP, span, "%s %u", what, (unsigned)step);
    finding_mend(findings, finding, "save the record from the page of this sheet once more");
}

static void tell_mishap(Compilation *compilation, Span span)
{
    Findings *findings = &compilation->findings;
    Finding *finding = finding_add(findings, FINDING_RECORD_STEP, span, "%s", compilation->mishap_fault);
    finding_mend(findings, finding, "save the record from the page of this sheet once more");
    compilation->mishap_fault = NULL;
}

void tell_not_happened(Compilation *compilation, const Happening *happening)
{
    uint32_t step = happening->measured.step;
    if (!happening->recorded.end && !happening->is_mishap)
        compilation->not_measured = step;
    else if (happening->recorded.end && happening->is_mishap)
        tell_mishap(compilation, happening->recorded);
    else if (happening->recorded.end)
        no_step(compilation, happening->recorded, "the sheet measures no width in step", step);
}

static uint32_t steps_of(const BenchPlan *bench)
{
    uint32_t steps = 0;
    for (uint32_t i = 0; i < bench->rod_count; i++)
        steps += bench->rods[i].step_count;
    return steps;
}

/* Whether the sheet has the steps that the record names; one more than there are: all is done. */
static bool has_steps(Compilation *compilation, const Record *record, const BenchPlan *bench)
{
    const Job *job = compilation->job;
    uint32_t steps = steps_of(bench), last = job->note_count;
    if (record->at > steps + 1)
        no_step(compilation, record->at_span, "the sheet has no step", record->at);
    else if (record->done > steps)
        no_step(compilation, record->done_span, "the sheet has no step", record->done);
    else if (last && job->notes[last - 1].step > steps)
        no_step(compilation, job->notes[last - 1].span, "the sheet has no step", job->notes[last - 1].step);
    else
        return true;
    return false;
}

void place_recorded_steps(Compilation *compilation, const BenchPlan *bench, uint32_t count)
{
    GivenRecord *given = &compilation->records[RECORD_OF_THIS];
    const Job *job = compilation->job;
    const Record *record = given->record;
    if (!record || record->sheet != count || !has_steps(compilation, record, bench))
        return;
    if (!step_place(bench, record->at, &given->at_place))
        given->at_place.rod = bench->rod_count;
    given->note_places = arena_take_many(&compilation->arena, job->note_count + 1, sizeof *given->note_places);
    for (uint32_t i = 0; i < job->note_count; i++)
        step_place(bench, job->notes[i].step, &given->note_places[i]);
}

/* The steps of the record on the sheet that all makes. */
static void renumber(Compilation *compilation, GivenRecord *given, const BenchPlan *bench)
{
    Job *job = compilation->job;
    uint32_t after = steps_of(bench) + 1;
    if (given->record->at)
        given->at = step_from_place(bench, given->at_place);
    given->at = given->record->at && !given->at ? after : given->at;
    for (uint32_t i = 0; i < job->note_count; i++) {
        uint32_t step = step_from_place(bench, given->note_places[i]);
        job->notes[i].step = step ? step : after - 1;
    }
    if (job->note_count)
        qsort(job->notes, job->note_count, sizeof *job->notes, by_step);
}

void settle_recorded_steps(Compilation *compilation)
{
    GivenRecord *given = &compilation->records[RECORD_OF_THIS];
    if (!given->record || compilation->findings.errors || !compilation->bench)
        return;
    Arena *arena = arena_child(&compilation->arena);
    if (given->note_places)
        renumber(compilation, given, bench_make(arena, compilation->plan, step_letters(arena, compilation->plan)));
    else if (has_steps(compilation, given->record, compilation->bench))
        given->at = given->record->at;
    arena_clear(arena);
}

/* --- what happened, as a record tells it --- */

/* Of all layers of the plan, from 1. */
static uint32_t wrap_number(const Plan *plan, uint32_t rod, uint32_t place, uint32_t layer)
{
    uint32_t number = layer + 1;
    for (uint32_t r = 0; r <= rod; r++)
        for (uint32_t p = 0; p < (r < rod ? plan->rods[r].place_count : place); p++)
            number += plan->rods[r].places[p].layer_count;
    return number;
}

/* Turns of each thread that were measured; those counted otherwise are of what was wound last. */
static void keep_turns(Compilation *compilation, RecordedEvent *event, const PlannedLayer *layer, uint64_t turn,
                       double more)
{
    Arena *arena = &compilation->arena;
    TurnsSoFar so_far = {.layer = layer};
    ThreadWidths widths;
    thread_widths_start(&widths, arena, compilation->job);
    turns_go_on(&so_far, &widths, turn);
    if (so_far.last)
        thread_widths_add(&widths, so_far.last, more);
    event->gaps = so_far.gaps;
    event->made = arena_take_many(arena, widths.list.count, sizeof *event->made);
    for (uint32_t i = 0; i < widths.list.count; i++) {
        const ThreadWidth *one = &widths.list.items[i];
        if (one->turns >= 1)
            event->made[event->made_count++] = (RecordedTurns){
                .thread = one->thread->name->bytes, .nominal = one->thread->pitch, .turns = (uint32_t)one->turns};
    }
}

RecordedEvent event_of_width(Compilation *compilation, const TurnlayMeasured *measured, const MeasuredWidth *width)
{
    const Plan *plan = compilation->plan;
    RecordedEvent event = {.step = measured->step,
                           .width = measured->width,
                           .turns = measured->turns,
                           .sure = measured->sure,
                           .wrap = wrap_number(plan, width->rod, width->place, width->layer)};
    keep_turns(compilation, &event, &plan->rods[width->rod].places[width->place].layers[width->layer], width->turn,
               (double)width->made - (double)width->turn);
    return event;
}
