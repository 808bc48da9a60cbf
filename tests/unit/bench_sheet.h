/* Rods and step lists for tests of the replay, written out as short texts and made without the plan and the maker
 * of steps.
 *
 * A rod is its pieces, then its windings: "s c | 0x19 1x2 0x19" is a spool and a cut piece; the spool winds 19
 * turns, the cut piece 2, the spool 19. "p" is a spacer from a spool. "1+2x10": two pieces from 1 on wind 10 turns
 * together. A comma begins another item, "gap" is a gap, "layer" begins another layer. "0x6 & 1x34" is one run of
 * 40 turns in which piece 1 goes on after six.
 *
 * Steps stand between semicolons: a word of `step_words`, the piece (or "1+2"), or "wind 6 of 0", "wind 2 of 1 by
 * hand", "loop 0 final". "at 3" names another winding than the one that is due. "leg 3 of 0" leaves its number in
 * `turns`, for the test to say what leg it is; "seal layer 1" is about that layer. */
#ifndef TURNLAY_TESTS_BENCH_SHEET_H
#define TURNLAY_TESTS_BENCH_SHEET_H

#include "bench/bench.h"

#include <stdlib.h>
#include <string.h>

enum { SHEET_RUNS = 64, SHEET_STEPS = 128, SHEET_STRANDS = 4, SHEET_LAYERS = 4 };

typedef struct Sheet {
    PlannedRod rod;
    Place written;
    PlannedPlace place;
    PlannedLayer layers[SHEET_LAYERS];
    Run runs[SHEET_RUNS];
    Strands strands[SHEET_RUNS];
    double lengths[SHEET_RUNS][SHEET_STRANDS];
    Piece pieces[SHEET_RUNS];
    Winding windings[SHEET_RUNS];
    Step steps[SHEET_STEPS];
    BenchRod made;
    uint32_t run_count;
} Sheet;

/* Millimetres a turn of the strand; each strand another, so that a wrong one shows. */
static inline double turn_length(uint32_t strand) { return 30.25 + strand; }

static inline void set_lengths(Sheet *sheet, uint32_t run)
{
    for (uint32_t i = 0; i < sheet->strands[run].count; i++)
        sheet->lengths[run][i] = sheet->runs[run].turns * turn_length(i);
}

static inline void add_run(Sheet *sheet, PlannedLayer *layer, RunRole role, uint32_t item, uint32_t turns,
                           uint32_t strands)
{
    uint32_t at = sheet->run_count++;
    sheet->strands[at].count = strands;
    sheet->runs[at] = (Run){.strands = role == RUN_GAP ? NULL : &sheet->strands[at],
                            .role = role,
                            .turns = turns,
                            .item = item,
                            .lengths = sheet->lengths[at]};
    set_lengths(sheet, at);
    layer->run_count++;
}

static inline void add_layer_of_runs(Sheet *sheet)
{
    PlannedLayer *layer = &sheet->layers[sheet->place.layer_count++];
    *layer = (PlannedLayer){.laid = true, .runs = &sheet->runs[sheet->run_count]};
}

static inline uint32_t number(const char **text)
{
    char *end;
    unsigned long value = strtoul(*text, &end, 10);
    if (end == *text)
        fail_msg("a number is missing: %s", *text);
    *text = end;
    return (uint32_t)value;
}

static inline bool take_word(const char **text, const char *word)
{
    while (**text == ' ')
        ++*text;
    size_t length = strlen(word);
    if (strncmp(*text, word, length) != 0)
        return false;
    *text += length;
    return true;
}

/* "1+2x10", a run of its own or, behind "&", the end of the run before. */
static inline void read_winding(Sheet *sheet, const char **text, uint32_t item, bool goes_on)
{
    uint32_t layer_index = sheet->place.layer_count - 1, piece = number(text);
    PlannedLayer *layer = &sheet->layers[layer_index];
    uint32_t strands = take_word(text, "+") ? number(text) : 1;
    if (!take_word(text, "x"))
        fail_msg("turns are missing: %s", *text);
    uint32_t turns = number(text);
    if (goes_on) {
        sheet->runs[sheet->run_count - 1].turns += turns;
        set_lengths(sheet, sheet->run_count - 1);
    } else {
        add_run(sheet, layer, RUN_BAND, item, turns, strands);
    }
    sheet->windings[sheet->rod.winding_count++] =
        (Winding){.layer = layer_index, .run = layer->run_count - 1, .first_piece = piece, .turns = turns};
    for (uint32_t i = piece; i < piece + strands; i++)
        sheet->pieces[i].layer = layer_index;
}

static inline void read_rod(Sheet *sheet, const char *text)
{
    uint32_t item = 0;
    while (!take_word(&text, "|")) {
        Piece *piece = &sheet->pieces[sheet->rod.piece_count++];
        piece->by_hand = *text == 'c';
        piece->spacer = *text == 'p';
        text++;
    }
    add_layer_of_runs(sheet);
    while (*text) {
        if (take_word(&text, ","))
            item++;
        else if (take_word(&text, "gap"))
            add_run(sheet, &sheet->layers[sheet->place.layer_count - 1], RUN_GAP, ++item, 0, 0);
        else if (take_word(&text, "layer"))
            add_layer_of_runs(sheet);
        else
            read_winding(sheet, &text, item, take_word(&text, "&"));
        take_word(&text, "");
    }
}

static const struct {
    const char *word;
    StepKind kind;
} step_words[] = {
    {"start", STEP_START},         {"lay in", STEP_LAY_IN},      {"loop", STEP_LAY_LOOP},
    {"take up", STEP_TAKE_UP},     {"wind", STEP_WIND},          {"stand", STEP_STAND},
    {"lay end", STEP_LAY_END},     {"pull", STEP_PULL_THROUGH},  {"tag", STEP_TRIM_TAG},
    {"trim", STEP_TRIM_END},       {"spacer", STEP_TAKE_SPACER}, {"pack", STEP_PACK},
    {"mark", STEP_MARK},           {"measure", STEP_MEASURE},    {"set out", STEP_SET_OUT},
    {"hold", STEP_HOLD_ENDS},      {"tie on", STEP_TIE_ON},      {"leg", STEP_LEG},
    {"tie off", STEP_TIE_OFF},     {"symmetry", STEP_SYMMETRY},  {"unwind", STEP_UNWIND},
    {"take ends", STEP_TAKE_ENDS}, {"seal", STEP_SEAL},
};

static inline StepKind step_kind(const char **text)
{
    for (size_t i = 0; i < sizeof step_words / sizeof *step_words; i++)
        if (take_word(text, step_words[i].word))
            return step_words[i].kind;
    fail_msg("no such step: %s", *text);
    return STEP_KIND_COUNT;
}

/* How far the list has come: the winding that is due, its turns made, those of its layer and item. */
typedef struct Progress {
    uint32_t winding, wound;
    uint64_t layer, item;
} Progress;

static inline const Run *run_of(const PlannedRod *rod, const Winding *winding)
{
    return &rod->places[winding->place].layers[winding->layer].runs[winding->run];
}

/* Sets a winding step's counts and length as its turns are made. */
static inline void count_turns(const PlannedRod *rod, Progress *progress, Step *step)
{
    if (progress->winding >= rod->winding_count)
        return;
    const Winding *due = &rod->windings[progress->winding];
    const Run *run = run_of(rod, due);
    step->layer_count = progress->layer += step->turns;
    step->band_count = progress->item += step->turns;
    step->length = 0;
    for (uint32_t i = 0; i < run->strands->count; i++)
        step->length += run->lengths[i] * step->turns / run->turns;
    progress->wound += step->turns;
    if (progress->wound < due->turns || ++progress->winding == rod->winding_count)
        return;
    const Winding *next = due + 1;
    bool same = next->place == due->place && next->layer == due->layer;
    progress->wound = 0;
    progress->layer = same ? progress->layer : 0;
    progress->item = same && run_of(rod, next)->item == run->item ? progress->item : 0;
}

static inline void read_step(Sheet *sheet, Progress *progress, const char **text)
{
    Step *step = &sheet->steps[sheet->made.step_count++];
    *step = (Step){.kind = step_kind(text), .piece = NO_PIECE, .winding = progress->winding};
    take_word(text, "");
    if (step->kind == STEP_WIND || step->kind == STEP_LEG) {
        step->turns = number(text);
        take_word(text, "of");
    }
    if (take_word(text, "layer"))
        step->layer = number(text);
    else if (**text && **text != ';') {
        step->piece = number(text);
        step->piece_count = take_word(text, "+") ? number(text) : 1;
        step->layer = step->piece < sheet->rod.piece_count ? sheet->pieces[step->piece].layer : 0;
    }
    step->by_hand = take_word(text, "by hand");
    step->final = take_word(text, "final");
    if (take_word(text, "at"))
        step->winding = number(text);
    if (step->kind == STEP_WIND)
        count_turns(&sheet->rod, progress, step);
    if (!take_word(text, ";") && **text)
        fail_msg("what is this in a step: %s", *text);
    take_word(text, "");
}

/* A sheet for the rod with these steps; to be freed. */
static inline Sheet *new_sheet(const char *rod, const char *steps)
{
    Sheet *sheet = calloc(1, sizeof *sheet);
    assert_non_null(sheet);
    sheet->place.layers = sheet->layers;
    sheet->place.place = &sheet->written;
    sheet->rod = (PlannedRod){
        .places = &sheet->place, .place_count = 1, .pieces = sheet->pieces, .windings = sheet->windings};
    read_rod(sheet, rod);
    sheet->made = (BenchRod){.rod = &sheet->rod, .steps = sheet->steps};
    Progress progress = {0};
    while (*steps)
        read_step(sheet, &progress, &steps);
    return sheet;
}

/* With memory of its own, given back at once. */
static inline Replay replay_of(const BenchRod *rod, const Bench *bench)
{
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    if (setjmp(*trap_set(&trap)) != 0)
        fail_msg("the machine has no memory left");
    Replay replay = replay_steps(&arena, rod, bench);
    arena_end(&arena);
    return replay;
}

#endif
