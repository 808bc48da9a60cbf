/* Wraps whose steps are those of one before them: which these are, and what each step says of its own. */
#include "words/equal_wraps.h"
#include "words/sheet_maker.h"

#include "base/sort.h"
#include "base/visible.h"
#include "plan/plan_sums.h"

#include <stdlib.h>
#include <string.h>

/* A part that may be told by a table. */
typedef struct Candidate {
    SheetPart *part;
    uint32_t piece, piece_count; /* of the rod's pieces, those that its actions are about */
    LIST_OF(uint32_t) essence;   /* of its actions: equal ones have the same */
} Candidate;

typedef LIST_OF(Candidate) Candidates;

/* --- which are equal --- */

static const Action *actions_of(const SheetRod *rod, const Candidate *one)
{
    return &rod->bench->actions[one->part->first];
}

static void find_pieces(const SheetRod *rod, Candidate *one)
{
    const Action *actions = actions_of(rod, one);
    uint32_t first = NO_PIECE, end = 0;
    for (uint32_t i = 0; i < one->part->count; i++) {
        PieceGroup group = action_pieces(&actions[i]);
        for (uint32_t p = 0; p < group.count; p++) {
            uint32_t piece = group_piece(group, p);
            first = piece < first ? piece : first;
            end = piece >= end ? piece + 1 : end;
        }
    }
    one->piece = first;
    one->piece_count = first == NO_PIECE ? 0 : end - first;
}

/* What is done, to which of the wrap's pieces, of which threads, and what fingers hold then: all else but counts
 * and places follows from these. */
static void find_essence(Arena *arena, const SheetRod *rod, Candidate *one)
{
    const Action *actions = actions_of(rod, one);
    for (uint32_t i = 0; i < one->part->count; i++) {
        const Action *action = &actions[i];
        bool tape = action->kind == ACTION_TAPE_DOWN || action->kind == ACTION_UNTAPE;
        PieceGroup group = action_pieces(action);
        const uint32_t values[] = {action->kind, tape ? action->thing : 0, action->by_hand, action->state.fingers,
                                   group.count};
        for (size_t v = 0; v < sizeof values / sizeof *values; v++)
            *LIST_ADD(arena, &one->essence) = values[v];
        for (uint32_t p = 0; p < group.count; p++) {
            uint32_t piece = group_piece(group, p);
            *LIST_ADD(arena, &one->essence) = piece - one->piece;
            *LIST_ADD(arena, &one->essence) = rod->bench->rod->pieces[piece].thread->index;
        }
    }
}

static int compare_essence(const Candidate *a, const Candidate *b)
{
    int order = ORDER(a->essence.count, b->essence.count);
    order = order ? order : ORDER(a->part->step_count, b->part->step_count);
    return order ? order : memcmp(a->essence.items, b->essence.items, a->essence.count * sizeof *a->essence.items);
}

/* Equal ones side by side, in the order in which they are wound. */
static int compare_candidates(const void *left, const void *right)
{
    const Candidate *a = left, *b = right;
    int order = compare_essence(a, b);
    return order ? order : ORDER(a->part, b->part);
}

/* --- what is said of it --- */

static const PlannedPlace *place_of(const SheetRod *rod, const SheetPart *part)
{
    return &rod->bench->rod->places[part->place];
}

static void put_numbers(Buffer *words, const Renamed *thread, uint32_t first)
{
    buffer_format(words, "%s %u", thread->name, (unsigned)first);
    if (thread->count > 1)
        buffer_format(words, " %s %u", thread->count == 2 ? "and" : "to", (unsigned)(first + thread->count - 1));
}

static const char *words_of_equal(Arena *arena, const SheetRod *rod, const SheetPart *as, const Renaming *renaming)
{
    Buffer words;
    buffer_start(&words, arena);
    const SheetStep *first = &rod->steps[as->first_step];
    buffer_format(&words, "The same steps as %u to %u, of %s, with these counts.", (unsigned)first->number,
                  (unsigned)first[as->step_count - 1].number, as->heading);
    for (uint32_t i = 0; i < renaming->count; i++) {
        const Renamed *thread = &renaming->threads[i];
        buffer_text(&words, i ? ", " : " Take ");
        put_numbers(&words, thread, thread->here);
        buffer_text(&words, " for ");
        put_numbers(&words, thread, thread->there);
    }
    if (*renaming->guide_here)
        buffer_format(&words, ", %s for %s", renaming->guide_here, renaming->guide_there);
    buffer_text(&words, renaming->count ? "." : "");
    if (renaming->other_way)
        buffer_text(&words, " Worked the other way: tip there is butt here, left is right, and the reverse.");
    buffer_text(&words, " It is safe to stop where a row says so.");
    return buffer_string(&words);
}

/* Where the last turns end; before any of them, where the first thing happens: as the step's own facts. */
static const SheetAction *told_of(const SheetRod *rod, const SheetStep *step)
{
    const SheetAction *actions = &rod->actions[step->first];
    for (uint32_t i = step->count; i-- > 0;)
        if (actions[i].action->kind == ACTION_WIND)
            return &actions[i];
    return actions;
}

static bool stops_alike(const Renaming *renaming, const SheetStep *there, const SheetStep *here)
{
    return !here->stop || (there->stop && reads_alike(renaming, there->stop, here->stop));
}

/* "7 o'clock" of "7 o'clock, this ring at 12", where there it is another hour of the same clock. */
static const char *other_hour(Arena *arena, const char *there, const char *here)
{
    size_t hour = strcspn(here, ",;"), other = strcspn(there, ",;");
    if (strcmp(here + hour, there + other) != 0 || !strcmp(there, here))
        return "";
    return text_format(arena, "%.*s", (int)hour, here);
}

/* The step's note, and how its actions are done where that stands with steps before it. */
static const char *all_told(Arena *arena, const SheetRod *rod, const SheetStep *step)
{
    const char *told = step->note;
    for (uint32_t i = 0; i < step->count; i++) {
        const char *how = rod->actions[step->first + i].how;
        if (*how)
            told = text_format(arena, "%s%s%s", told, *told ? " " : "", how);
    }
    return told;
}

static ToldRow row_of(Arena *arena, const SheetRod *rod, const Renaming *renaming, const SheetStep *there,
                      const SheetStep *here)
{
    const SheetAction *told = told_of(rod, here);
    const char *from_mark = strstr(told->where, " from the mark");
    const char *hour = other_hour(arena, there->clock, here->clock);
    return (ToldRow){
        .as = there->number,
        .turns = turns_told(arena, here->says),
        .layer = *told->count ? text_format(arena, "%llu", (unsigned long long)told->action->layer_count) : "",
        .at = from_mark ? text_format(arena, "%.*s", (int)(from_mark - told->where), told->where) : told->where,
        .width = width_told(arena, here->says),
        .own_says = !reads_alike(renaming, there->says, here->says),
        .note = says_more(arena, renaming, all_told(arena, rod, there), here->note),
        .hour = hour,
        .own_clock = *here->clock && !*hour && strcmp(there->clock, here->clock) != 0,
        .own_stop = !stops_alike(renaming, there, here)};
}

const char *row_thread(Arena *arena, const SheetStep *step, const ToldRow *row)
{
    return *row->hour ? text_format(arena, "%s at %s", step->thread, row->hour) : step->thread;
}

static void name_guides(Arena *arena, const Guide *here, const Guide *there, Renaming *renaming)
{
    if (!here || !there || here->name == there->name)
        return;
    renaming->guide_here = visible(arena, here->name->bytes);
    renaming->guide_there = visible(arena, there->name->bytes);
}

static void tell_as(Arena *arena, const SheetRod *rod, const Candidate *here, const Candidate *there)
{
    const PlannedPlace *place = place_of(rod, here->part), *other = place_of(rod, there->part);
    Renaming renaming = {.guide_there = "", .guide_here = "", .other_way = place->direction != other->direction};
    name_guides(arena, place->place->guide, other->place->guide, &renaming);
    SheetPart *part = here->part;
    const SheetPart *as = there->part;
    if (!renaming_of(arena, rod, there->piece, here->piece, here->piece_count, &renaming))
        return;
    ToldRow *rows = arena_take_many(arena, part->step_count, sizeof *rows);
    for (uint32_t i = 0; i < part->step_count; i++)
        rows[i] =
            row_of(arena, rod, &renaming, &rod->steps[as->first_step + i], &rod->steps[part->first_step + i]);
    part->as = as;
    part->as_words = words_of_equal(arena, rod, as, &renaming);
    part->rows = rows;
}

/* --- all of them --- */

/* Turns of one layer, and every step of it shown. */
static bool may_be_told(const SheetRod *rod, const SheetPart *part, uint32_t from)
{
    return part->layer != WHOLE_ROD && rod->steps[part->first_step].number >= from
           && !place_of(rod, part)->layers[part->layer].crosswrap;
}

/* working: given back by the caller. */
static void equal_in_section(Arena *arena, Arena *working, SheetRod *rod, const SheetSection *section,
                             uint32_t from)
{
    Candidates found = {0};
    for (uint32_t i = 0; i < section->part_count; i++) {
        SheetPart *part = &rod->parts[section->first_part + i];
        part->as = NULL;
        if (!may_be_told(rod, part, from))
            continue;
        Candidate one = {.part = part};
        find_pieces(rod, &one);
        find_essence(working, rod, &one);
        *LIST_ADD(working, &found) = one;
    }
    if (found.count)
        qsort(found.items, found.count, sizeof *found.items, compare_candidates);
    for (uint32_t i = 1, first = 0; i < found.count; i++) {
        if (compare_essence(&found.items[first], &found.items[i]) != 0)
            first = i;
        else
            tell_as(arena, rod, &found.items[i], &found.items[first]);
    }
}

void sheet_equal_wraps(Arena *arena, Sheet *sheet, uint32_t from)
{
    Arena *working = arena_child(arena);
    for (uint32_t r = 0; r < sheet->rod_count; r++)
        for (uint32_t s = 0; s < sheet->rods[r].section_count; s++) {
            equal_in_section(arena, working, &sheet->rods[r], &sheet->rods[r].sections[s], from);
            arena_clear(working);
        }
}

void sheet_begin_at(Arena *arena, Sheet *sheet, uint32_t from)
{
    sheet_cautions(arena, sheet, from);
    sheet_equal_wraps(arena, sheet, from);
}
