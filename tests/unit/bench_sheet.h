/* Rods and action lists for tests of the replay, written out as short texts and made without the plan and the
 * maker of actions.
 *
 * A rod is its pieces, then its windings: "s c | 0x19 1x2 0x19" is a spool and a cut piece; the spool winds 19
 * turns, the cut piece 2, the spool 19. "b" is a piece on a bobbin, "p" a spacer from a spool. "1+2x10": two
 * pieces from 1 on wind 10 turns together; "0&2x10": pieces 0 and 2. A comma begins another item, "gap" is a gap,
 * "layer" begins another layer. "0x6 & 1x34" is one run of 40 turns in which piece 1 goes on after six. "place"
 * begins a place, "guide" one that is the first foot of a guide, "foot" its next foot, "on 0" puts it on the
 * crosswrap of place 0, "of 0" goes on at place 0; "under" and "over" begin a layer there. Each turn is a
 * millimetre wide, and feet are 24 mm long, from where their place begins.
 *
 * Steps stand between semicolons: a word of `step_words`, the piece (or "1+2", "0&2"), or "wind 6 of 0", "wind 2
 * of 1 by hand", "loop 0 final", "tape tag 1", "untape line 1". Tape is clear of all turns but where it says
 * "clear 6". "load 1" winds all of the piece onto its bobbin, "load 1 short" a millimetre less. "at 3" names
 * another winding than the one that is due. "leg 3 of 0" leaves its number in `turns`, for the test to say what
 * leg it is; "seal layer 1" is about that layer, "tape guide place 1" about that place. */
#ifndef TURNLAY_TESTS_BENCH_SHEET_H
#define TURNLAY_TESTS_BENCH_SHEET_H

#include "bench/bench.h"

#include <stdlib.h>
#include <string.h>

enum { SHEET_RUNS = 64, SHEET_STEPS = 160, SHEET_STRANDS = 4, SHEET_LAYERS = 4, SHEET_PLACES = 6 };

typedef struct Sheet {
    PlannedRod rod;
    Place written[SHEET_PLACES];
    Layer under, over;
    PlannedPlace places[SHEET_PLACES], *place; /* the one at hand */
    PlannedLayer layers[SHEET_PLACES][SHEET_LAYERS];
    Run runs[SHEET_RUNS];
    Strands strands[SHEET_RUNS];
    double lengths[SHEET_RUNS][SHEET_STRANDS];
    Piece pieces[SHEET_RUNS];
    Winding windings[SHEET_RUNS];
    Action actions[SHEET_STEPS];
    BenchRod made;
    uint32_t run_count;
    uint32_t listed[SHEET_STEPS][SHEET_STRANDS], listed_count;
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
    double start = layer->run_count ? layer->runs[layer->run_count - 1].end : 0;
    sheet->runs[at] = (Run){.strands = role == RUN_GAP ? NULL : &sheet->strands[at],
                            .role = role,
                            .turns = turns,
                            .pitch = role == RUN_GAP ? 0 : 1,
                            .item = item,
                            .start = start,
                            .end = start + turns,
                            .lengths = sheet->lengths[at]};
    set_lengths(sheet, at);
    layer->run_count++;
}

static inline void add_layer_of_runs(Sheet *sheet, const Layer *layer)
{
    sheet->place->layers[sheet->place->layer_count++] =
        (PlannedLayer){.layer = layer, .laid = true, .runs = &sheet->runs[sheet->run_count]};
}

/* foot: its number, -1 for a place without a guide. */
static inline void add_place_of_sheet(Sheet *sheet, int foot)
{
    uint32_t at = sheet->rod.place_count++;
    sheet->place = &sheet->places[at];
    *sheet->place = (PlannedPlace){.place = foot > 0 ? sheet->place[-1].place : &sheet->written[at],
                                   .foot = foot,
                                   .direction = 1,
                                   .foot_end = 24,
                                   .layers = sheet->layers[at]};
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

/* "1", "1+2", "0&2". */
static inline PieceGroup read_group(Sheet *sheet, const char **text)
{
    PieceGroup group = one_piece(number(text));
    if (take_word(text, "+"))
        group.count = number(text);
    uint32_t *listed = sheet->listed[sheet->listed_count];
    while (**text == '&' && group.count < SHEET_STRANDS) {
        ++*text;
        sheet->listed_count += group.count == 1;
        group.all = listed;
        listed[0] = group.first;
        listed[group.count++] = number(text);
    }
    return group;
}

/* "1+2x10", a run of its own or, behind "&", the end of the run before. */
static inline void read_winding(Sheet *sheet, const char **text, uint32_t item, bool goes_on)
{
    uint32_t layer_index = sheet->place->layer_count - 1, place = (uint32_t)(sheet->place - sheet->places);
    PlannedLayer *layer = &sheet->place->layers[layer_index];
    PieceGroup pieces = read_group(sheet, text);
    if (!take_word(text, "x"))
        fail_msg("turns are missing: %s", *text);
    uint32_t turns = number(text);
    if (goes_on) {
        sheet->runs[sheet->run_count - 1].turns += turns;
        sheet->runs[sheet->run_count - 1].end += turns;
        set_lengths(sheet, sheet->run_count - 1);
    } else {
        add_run(sheet, layer, RUN_BAND, item, turns, pieces.count);
    }
    sheet->windings[sheet->rod.winding_count++] = (Winding){
        .place = place, .layer = layer_index, .run = layer->run_count - 1, .turns = turns, .pieces = pieces};
    for (uint32_t i = 0; i < pieces.count; i++) {
        Piece *piece = &sheet->pieces[group_piece(pieces, i)];
        piece->place = place;
        piece->layer = layer_index;
        piece->turns += turns;
        piece->wound += turns * turn_length(i);
    }
}

static inline void read_rod(Sheet *sheet, const char *text)
{
    uint32_t item = 0;
    while (!take_word(&text, "|")) {
        Piece *piece = &sheet->pieces[sheet->rod.piece_count++];
        piece->by_hand = *text == 'c' || *text == 'b';
        piece->bobbin = *text == 'b';
        piece->spacer = *text == 'p';
        text++;
    }
    if (!strstr(text, "place") && !strstr(text, "guide")) {
        add_place_of_sheet(sheet, -1);
        add_layer_of_runs(sheet, &sheet->over);
    }
    while (*text) {
        if (take_word(&text, ","))
            item++;
        else if (take_word(&text, "place"))
            add_place_of_sheet(sheet, -1);
        else if (take_word(&text, "guide"))
            add_place_of_sheet(sheet, 0);
        else if (take_word(&text, "foot"))
            add_place_of_sheet(sheet, sheet->place->foot + 1);
        else if (take_word(&text, "on"))
            sheet->place->host = &sheet->places[number(&text)];
        else if (take_word(&text, "of"))
            sheet->place = &sheet->places[number(&text)];
        else if (take_word(&text, "under"))
            add_layer_of_runs(sheet, &sheet->under);
        else if (take_word(&text, "over"))
            add_layer_of_runs(sheet, &sheet->over);
        else if (take_word(&text, "gap"))
            add_run(sheet, &sheet->place->layers[sheet->place->layer_count - 1], RUN_GAP, ++item, 0, 0);
        else if (take_word(&text, "layer"))
            add_layer_of_runs(sheet, &sheet->over);
        else
            read_winding(sheet, &text, item, take_word(&text, "&"));
        take_word(&text, "");
    }
}

static const struct {
    const char *word;
    ActionKind kind;
    HeldThing thing;
} step_words[] = {
    {"tape tag", ACTION_TAPE_DOWN, THING_TAG},
    {"tape line", ACTION_TAPE_DOWN, THING_LINE},
    {"tape end", ACTION_TAPE_DOWN, THING_END},
    {"tape loop", ACTION_TAPE_DOWN, THING_LOOP},
    {"untape tag", ACTION_UNTAPE, THING_TAG},
    {"untape line", ACTION_UNTAPE, THING_LINE},
    {"untape end", ACTION_UNTAPE, THING_END},
    {"untape loop", ACTION_UNTAPE, THING_LOOP},
    {.word = "cut", .kind = ACTION_CUT_FROM_SPOOL},
    {.word = "load", .kind = ACTION_LOAD},
    {.word = "start", .kind = ACTION_START},
    {.word = "lay in", .kind = ACTION_LAY_IN},
    {.word = "loop", .kind = ACTION_LAY_LOOP},
    {.word = "take up", .kind = ACTION_TAKE_UP},
    {.word = "wind", .kind = ACTION_WIND},
    {.word = "stand", .kind = ACTION_STAND},
    {.word = "lay end", .kind = ACTION_LAY_END},
    {.word = "pull", .kind = ACTION_PULL_THROUGH},
    {.word = "tag", .kind = ACTION_TRIM_TAG},
    {.word = "trim", .kind = ACTION_TRIM_END},
    {.word = "spacer", .kind = ACTION_TAKE_SPACER},
    {.word = "pack", .kind = ACTION_PACK},
    {.word = "tape guide", .kind = ACTION_TAPE_GUIDE},
    {.word = "take tape", .kind = ACTION_TAKE_TAPE},
    {.word = "mark", .kind = ACTION_MARK},
    {.word = "measure", .kind = ACTION_MEASURE},
    {.word = "set out", .kind = ACTION_SET_OUT},
    {.word = "hold", .kind = ACTION_HOLD_ENDS},
    {.word = "tie on", .kind = ACTION_TIE_ON},
    {.word = "leg", .kind = ACTION_LEG},
    {.word = "tie off", .kind = ACTION_TIE_OFF},
    {.word = "symmetry", .kind = ACTION_SYMMETRY},
    {.word = "unwind", .kind = ACTION_UNWIND},
    {.word = "take ends", .kind = ACTION_TAKE_ENDS},
    {.word = "seal", .kind = ACTION_SEAL},
};

static inline Action step_of(const char **text)
{
    for (size_t i = 0; i < sizeof step_words / sizeof *step_words; i++)
        if (take_word(text, step_words[i].word))
            return (Action){.kind = step_words[i].kind, .thing = step_words[i].thing, .piece = NO_PIECE};
    fail_msg("no such step: %s", *text);
    return (Action){.kind = ACTION_KIND_COUNT};
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

/* Sets a winding action's counts and length as its turns are made. */
static inline void count_turns(const PlannedRod *rod, Progress *progress, Action *action)
{
    if (progress->winding >= rod->winding_count)
        return;
    const Winding *due = &rod->windings[progress->winding];
    const Run *run = run_of(rod, due);
    action->layer_count = progress->layer += action->turns;
    action->band_count = progress->item += action->turns;
    action->length = 0;
    for (uint32_t i = 0; i < run->strands->count; i++)
        action->length += run->lengths[i] * action->turns / run->turns;
    progress->wound += action->turns;
    if (progress->wound < due->turns || ++progress->winding == rod->winding_count)
        return;
    const Winding *next = due + 1;
    bool same = next->place == due->place && next->layer == due->layer;
    progress->wound = 0;
    progress->layer = same ? progress->layer : 0;
    progress->item = same && run_of(rod, next)->item == run->item ? progress->item : 0;
}

static inline void read_action(Sheet *sheet, Progress *progress, const char **text)
{
    Action *action = &sheet->actions[sheet->made.action_count++];
    *action = step_of(text);
    action->winding = progress->winding;
    take_word(text, "");
    if (action->kind == ACTION_WIND || action->kind == ACTION_LEG) {
        action->turns = number(text);
        take_word(text, "of");
    }
    if (take_word(text, "layer"))
        action->layer = number(text);
    else if (take_word(text, "place"))
        action->place = number(text);
    else if (**text && **text != ';') {
        PieceGroup pieces = read_group(sheet, text);
        action->piece = pieces.first;
        action->piece_count = pieces.count;
        action->pieces = pieces.all;
        bool there = action->piece < sheet->rod.piece_count;
        action->layer = there ? sheet->pieces[action->piece].layer : 0;
        action->place = there ? sheet->pieces[action->piece].place : 0;
    }
    action->by_hand = take_word(text, "by hand");
    action->final = take_word(text, "final");
    if (action->kind == ACTION_LOAD && action->piece < sheet->rod.piece_count)
        action->length = sheet->pieces[action->piece].wound - take_word(text, "short");
    if (take_word(text, "at"))
        action->winding = number(text);
    if (action->kind == ACTION_TAPE_DOWN)
        action->turns = take_word(text, "clear") ? number(text) : CLEAR_OF_ALL;
    if (action->kind == ACTION_WIND)
        count_turns(&sheet->rod, progress, action);
    if (!take_word(text, ";") && **text)
        fail_msg("what is this in a step: %s", *text);
    take_word(text, "");
}

/* A sheet for the rod with these actions; to be freed. */
static inline Sheet *new_sheet(const char *rod, const char *actions)
{
    Sheet *sheet = calloc(1, sizeof *sheet);
    assert_non_null(sheet);
    sheet->over.over = true;
    sheet->rod = (PlannedRod){.places = sheet->places, .pieces = sheet->pieces, .windings = sheet->windings};
    read_rod(sheet, rod);
    sheet->made = (BenchRod){.rod = &sheet->rod, .actions = sheet->actions};
    Progress progress = {0};
    while (*actions)
        read_action(sheet, &progress, &actions);
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
    Replay replay = replay_actions(&arena, rod, bench);
    arena_end(&arena);
    return replay;
}

#endif
