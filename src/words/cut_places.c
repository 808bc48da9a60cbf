/* The cut list place by place: equal pieces of one thread on one line. Cards have the lines of their places from
 * here, too. */
#include "words/card.h"

#include "base/sort.h"

#include <stdlib.h>
#include <string.h>

/* Alike ones side by side, in the order of their numbers: the first of them is needed first. */
static int compare_alike(const void *left, const void *right)
{
    const SheetCut *a = left, *b = right;
    int order = ORDER(a->thread, b->thread);
    order = order ? order : strcmp(a->what, b->what);
    order = order ? order : strcmp(a->length, b->length);
    return order ? order : ORDER(a->number, b->number);
}

static bool are_alike(const SheetCut *a, const SheetCut *b)
{
    return a->thread == b->thread && strcmp(a->what, b->what) == 0 && strcmp(a->length, b->length) == 0;
}

static int compare_lines(const void *left, const void *right)
{
    return ORDER(((const CutLine *)left)->first_action, ((const CutLine *)right)->first_action);
}

/* "mist 10", "mist 1, 3 and 5 to 7": of pieces that are alike, by their numbers. */
static const char *labels(Arena *arena, const SheetCut *cuts, uint32_t count)
{
    Buffer words;
    buffer_start(&words, arena);
    buffer_put(&words, cuts->label, (size_t)(strrchr(cuts->label, ' ') + 1 - cuts->label));
    for (uint32_t i = 0, next; i < count; i = next) {
        for (next = i + 1; next < count && cuts[next].number == cuts[next - 1].number + 1;)
            next++;
        next = next - i > 2 ? next : i + 1; /* two stand side by side as they are */
        buffer_text(&words, i == 0 ? "" : next == count ? " and " : ", ");
        buffer_format(&words, "%u", (unsigned)cuts[i].number);
        if (next - i > 2)
            buffer_format(&words, " to %u", (unsigned)cuts[next - 1].number);
    }
    return buffer_string(&words);
}

CutLine *cut_lines(Arena *arena, SheetCut *cuts, uint32_t count, uint32_t *line_count)
{
    CutLine *lines = arena_take_many(arena, count + 1, sizeof *lines);
    *line_count = 0;
    if (count)
        qsort(cuts, count, sizeof *cuts, compare_alike);
    for (uint32_t i = 0, end; i < count; i = end) {
        CutLine line = {.what = cuts[i].what,
                        .length = cuts[i].length,
                        .colour = cuts[i].colour,
                        .first_action = cuts[i].first_action,
                        .first_step = cuts[i].first_step};
        for (end = i + 1; end < count && are_alike(&cuts[i], &cuts[end]);)
            end++;
        line.count = end - i;
        line.labels = labels(arena, &cuts[i], line.count);
        lines[(*line_count)++] = line;
    }
    if (*line_count)
        qsort(lines, *line_count, sizeof *lines, compare_lines);
    return lines;
}

/* --- place by place --- */

/* Loops come first, since they serve at all places; then cards, as their pieces are needed. */
typedef struct Gathering {
    uint32_t *place_of_card; /* which of the places, from 1; 0: not yet. That of loops is the first */
    uint32_t *place_of_cut;
    uint32_t *ends; /* by place: cuts of it and of those before */
    uint32_t count;
} Gathering;

static uint32_t place_of(Gathering *gathering, const SheetRod *rod, const SheetCut *cut)
{
    uint32_t *place = &gathering->place_of_card[cut->loop ? rod->card_count : card_of_place(rod, cut->place)];
    if (*place == 0)
        *place = ++gathering->count;
    return *place - 1;
}

CutPlaces sheet_cut_places(Arena *arena, const SheetRod *rod, const SheetSection *section, uint32_t from)
{
    const SheetCut *all = rod->cuts + section->first_cut;
    uint32_t most = section->cut_count;
    Gathering gathering = {.place_of_card = arena_take_many(arena, rod->card_count + 1, sizeof(uint32_t)),
                           .place_of_cut = arena_take_many(arena, most, sizeof(uint32_t)),
                           .ends = arena_take_many(arena, most + 2, sizeof(uint32_t))};
    CutPlaces places = {.items = arena_take_many(arena, most + 1, sizeof *places.items)};
    for (uint32_t loops = 2; loops-- > 0;) /* first all loops */
        for (uint32_t i = 0; i < most; i++) {
            if (all[i].loop != (loops == 1) || all[i].first_step < from)
                continue;
            uint32_t place = gathering.place_of_cut[i] = place_of(&gathering, rod, &all[i]);
            places.items[place].heading = all[i].loop ? "" : rod->cards[card_of_place(rod, all[i].place)].heading;
            gathering.ends[place + 1]++;
        }
    places.count = gathering.count;
    for (uint32_t p = 0; p < places.count; p++)
        gathering.ends[p + 1] += gathering.ends[p];
    SheetCut *cuts = arena_take_many(arena, most, sizeof *cuts);
    for (uint32_t i = 0; i < most; i++)
        if (all[i].first_step >= from)
            cuts[gathering.ends[gathering.place_of_cut[i]]++] = all[i];
    for (uint32_t p = 0, first = 0; p < places.count; first = gathering.ends[p++])
        places.items[p].lines =
            cut_lines(arena, cuts + first, gathering.ends[p] - first, &places.items[p].line_count);
    return places;
}
