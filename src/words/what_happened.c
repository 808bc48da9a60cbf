/* What happened at the bench, in words: what it was, what to do, and which other way there is. */
#include "words/sheet_maker.h"

#include "base/visible.h"
#include "plan/plan_sums.h"

static void put_label(SheetMaker *maker, const Thread *thread, uint32_t number)
{
    buffer_format(&maker->words, "%s %u", visible(maker->arena, thread->name->bytes), (unsigned)number);
}

static void put_turns(SheetMaker *maker, uint64_t turns)
{
    buffer_format(&maker->words, "%llu turn%s", (unsigned long long)turns, turns == 1 ? "" : "s");
}

/* "navy 2", "navy 2 and what ran beside it". */
static void put_broken(SheetMaker *maker, const Mishap *mishap)
{
    put_label(maker, mishap->thread, mishap->number);
    buffer_text(&maker->words, mishap->together > 1 ? " or what ran beside it" : "");
}

static const PlannedRod *rod_of(const SheetMaker *maker, const Mishap *mishap)
{
    return &maker->plan->rods[mishap->rod];
}

void put_layer(SheetMaker *maker, const PlannedRod *rod, uint32_t place, uint32_t layer)
{
    const PlannedPlace *planned = &rod->places[place];
    buffer_format(&maker->words, "%s, %s: ",
                  visible(maker->arena, place_label(maker->arena, maker->plan->job, rod->rod, planned)),
                  layer_label(planned, layer));
}

static bool is_of_crosswrap(const SheetMaker *maker, const Mishap *mishap)
{
    return rod_of(maker, mishap)->places[mishap->place].layers[mishap->layer].crosswrap;
}

/* --- what it was --- */

static void put_broke(SheetMaker *maker, const Mishap *mishap)
{
    put_broken(maker, mishap);
    buffer_format(&maker->words, " %s after ", mishap->kind == MISHAP_BROKE ? "broke" : "came to its end");
    put_turns(maker, mishap->turns);
    if (!is_of_crosswrap(maker, mishap))
        buffer_format(&maker->words, ", at turn %llu of the layer", (unsigned long long)mishap->turn);
}

static void put_unwound(SheetMaker *maker, const Mishap *mishap)
{
    buffer_format(&maker->words, "turns came off; %u of the layer are left", (unsigned)mishap->turns);
}

static void put_loop(SheetMaker *maker, const Mishap *mishap)
{
    buffer_text(&maker->words, "the loop for ");
    put_label(maker, mishap->thread, mishap->number);
    buffer_text(&maker->words, " tore");
}

static void put_tag(SheetMaker *maker, const Mishap *mishap)
{
    buffer_text(&maker->words, "the tag of ");
    put_broken(maker, mishap);
    buffer_text(&maker->words, " came out");
}

/* "Step 14, 320 mm from the butt, toward the tip: overwrap: navy 2 broke after 5 turns, at turn 73 of the layer"
 */
static const char *what_it_was(SheetMaker *maker, const Mishap *mishap)
{
    static void (*const put[MISHAP_KIND_COUNT])(SheetMaker *, const Mishap *) = {
        [MISHAP_BROKE] = put_broke,    [MISHAP_SPOOL_EMPTY] = put_broke, [MISHAP_UNWOUND] = put_unwound,
        [MISHAP_LOOP_TORN] = put_loop, [MISHAP_TAG_OUT] = put_tag,
    };
    buffer_format(&maker->words, "Step %u, ", (unsigned)mishap->step);
    put_layer(maker, rod_of(maker, mishap), mishap->place, mishap->layer);
    put[mishap->kind](maker, mishap);
    buffer_text(&maker->words, ".");
    return maker_take(maker);
}

/* --- what to do --- */

/* "; lost: 12.60 m of navy 1 and 39 cm of mist 2" */
static void put_lost(SheetMaker *maker, const MishapWay *way)
{
    for (uint32_t i = 0; i < way->lost_count; i++) {
        buffer_text(&maker->words, i == 0 ? "; lost: " : i + 1 == way->lost_count ? " and " : ", ");
        maker_cut(maker, way->lost[i].lost);
        buffer_text(&maker->words, " of ");
        put_label(maker, way->lost[i].thread, way->lost[i].number);
    }
}

/* Turns that lie, of its layer. */
static uint64_t turns_left(const Mishap *mishap)
{
    return mishap->kind == MISHAP_UNWOUND ? mishap->turns : mishap->turn;
}

static void put_unwind(SheetMaker *maker, const Mishap *mishap, const MishapWay *way)
{
    uint64_t off = mishap->turn - turns_left(mishap);
    if (way->unwound <= off) {
        buffer_text(&maker->words, "nothing more comes off");
        return;
    }
    buffer_text(&maker->words, "unwind ");
    put_turns(maker, way->unwound - off);
    if (!is_of_crosswrap(maker, mishap))
        buffer_format(&maker->words, ", to turn %llu of the layer", (unsigned long long)way->turn);
    for (uint32_t i = 0; i < way->laid_count; i++) {
        buffer_text(&maker->words, i == 0 ? ", and take off " : i + 1 == way->laid_count ? " and " : ", ");
        put_label(maker, way->laid[i].thread, way->laid[i].number);
    }
    buffer_text(&maker->words, way->laid_count ? ", laid since" : "");
}

static void put_wind_again(SheetMaker *maker, const MishapWay *way)
{
    if (!way->unwound)
        return;
    put_turns(maker, way->unwound);
    buffer_text(&maker->words, way->unwound == 1 ? " is wound again" : " are wound again");
}

/* The first words of what comes next in the step; NULL where the sheet has no such step. */
static const char *words_from(const Sheet *sheet, const Mishap *mishap, const MishapWay *way)
{
    const SheetRod *rod = &sheet->rods[mishap->rod];
    for (uint32_t s = 0; s < rod->step_count; s++)
        if (rod->steps[s].number == way->step && way->action < rod->steps[s].count)
            return rod->actions[rod->steps[s].first + way->action].says;
    return NULL;
}

static void put_go_on(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap, const MishapWay *way)
{
    const char *next = way->action || way->made ? words_from(sheet, mishap, way) : NULL;
    buffer_format(&maker->words, next ? " Go on in step %u with \"%s\"" : " Go on with step %u",
                  (unsigned)way->step, next);
    if (way->made) {
        buffer_text(&maker->words, ": ");
        put_turns(maker, way->made);
        buffer_text(&maker->words, way->made == 1 ? " of the step lies already" : " of the step lie already");
    }
    buffer_text(&maker->words, way->stays_cut ? "; what is cut or trimmed already stays as it is." : ".");
}

/* The piece that goes on from a splice, as the sheet at hand has it; NO_PIECE where that is no longer there. */
static uint32_t piece_behind(const SheetMaker *maker, const Mishap *mishap)
{
    const PlannedRod *rod = rod_of(maker, mishap);
    for (uint32_t p = 0; p < rod->piece_count; p++) {
        const Piece *piece = &rod->pieces[p];
        if (piece->place == mishap->place && piece->layer == mishap->layer && piece->thread == mishap->thread
            && piece->first_turn == mishap->ways[WAY_SPLICE].splice && !piece->pass_count)
            return p;
    }
    return NO_PIECE;
}

/* Pieces are numbered as they are needed: those that are cut already have their old numbers on them. */
static void put_moved_numbers(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap, uint32_t number)
{
    const PlannedRod *rod = rod_of(maker, mishap);
    const uint32_t *numbers = sheet->bench->rods[mishap->rod].piece_numbers;
    bool moved = false;
    for (uint32_t p = 0; p < rod->piece_count; p++)
        moved |= rod->pieces[p].thread == mishap->thread && numbers[p] > number;
    if (!moved)
        return;
    buffer_text(&maker->words, " Its later pieces are numbered one higher: what was ");
    put_label(maker, mishap->thread, number);
    buffer_text(&maker->words, " is ");
    put_label(maker, mishap->thread, number + 1);
    buffer_text(&maker->words, " now. Mark those that are cut already.");
}

/* "12.60 m of navy 2, from its spool, go on from there" */
static void put_new_piece(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap)
{
    const MishapWay *way = &mishap->ways[WAY_SPLICE];
    uint32_t piece = mishap->followed == WAY_SPLICE ? piece_behind(maker, mishap) : NO_PIECE;
    buffer_format(&maker->words, " At turn %llu the old piece ends, ", (unsigned long long)way->splice);
    if (piece == NO_PIECE) {
        buffer_text(&maker->words, "and a new one begins.");
        return;
    }
    const Piece *planned = &rod_of(maker, mishap)->pieces[piece];
    uint32_t number = sheet->bench->rods[mishap->rod].piece_numbers[piece];
    buffer_text(&maker->words, "and ");
    put_label(maker, planned->thread, number);
    buffer_text(&maker->words, " begins: ");
    maker_cut(maker, piece_length(planned));
    buffer_text(&maker->words, planned->by_hand ? ", a cut piece; its tag lies under the turns before."
                                                : " from its spool; its tag lies under its own first turns.");
    put_moved_numbers(maker, sheet, mishap, number);
}

static void put_splice(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap, bool followed)
{
    const MishapWay *way = &mishap->ways[WAY_SPLICE];
    buffer_text(&maker->words, "a splice: ");
    put_unwind(maker, mishap, way);
    if (way->hangs > 0) {
        buffer_text(&maker->words, "; from turn ");
        buffer_format(&maker->words, "%llu on ", (unsigned long long)way->splice);
        maker_cut(maker, way->hangs);
        buffer_text(&maker->words, " of the old piece hang");
    }
    put_lost(maker, way);
    buffer_text(&maker->words, ".");
    put_new_piece(maker, sheet, mishap);
    if (followed)
        put_go_on(maker, sheet, mishap, way);
    buffer_text(&maker->words, " ");
    put_wind_again(maker, way);
    buffer_text(&maker->words, way->unwound ? "; it shows as a small lump." : "It shows as a small lump.");
}

static void put_restart(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap, bool followed)
{
    const MishapWay *way = &mishap->ways[WAY_RESTART];
    buffer_text(&maker->words, "strip and restart: ");
    put_unwind(maker, mishap, way);
    put_lost(maker, way);
    buffer_text(&maker->words, way->lost_count ? "; cut as much again." : ".");
    if (followed)
        put_go_on(maker, sheet, mishap, way);
    buffer_text(&maker->words, " ");
    put_wind_again(maker, way);
    buffer_text(&maker->words, way->unwound ? "; nothing shows." : "Nothing shows.");
}

static void put_again(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap)
{
    const MishapWay *way = &mishap->ways[WAY_AGAIN];
    buffer_text(&maker->words, mishap->kind == MISHAP_LOOP_TORN ? "a new loop: " : "the same turns again: ");
    if (mishap->kind == MISHAP_LOOP_TORN)
        put_unwind(maker, mishap, way);
    else if (!way->turn)
        buffer_text(&maker->words, "no turn of the layer lies");
    else
        buffer_format(&maker->words, "turn %llu of the layer is the last that lies",
                      (unsigned long long)way->turn);
    buffer_text(&maker->words, ".");
    put_go_on(maker, sheet, mishap, way);
    if (mishap->kind == MISHAP_LOOP_TORN) {
        buffer_text(&maker->words, " ");
        put_wind_again(maker, way);
        buffer_text(&maker->words, way->unwound ? "; nothing shows." : "Nothing shows.");
    }
}

static void put_way(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap, WayOn way, bool followed)
{
    if (way == WAY_AGAIN)
        put_again(maker, sheet, mishap);
    else if (way == WAY_SPLICE)
        put_splice(maker, sheet, mishap, followed);
    else
        put_restart(maker, sheet, mishap, followed);
}

/* "All turns of straw 5 lie, and its end is long enough: nothing comes off." */
static void put_long_enough(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap)
{
    buffer_text(&maker->words, "All turns of ");
    put_label(maker, mishap->thread, mishap->number);
    buffer_text(&maker->words,
                mishap->together > 1 ? " and what ran beside it lie, and their ends are" : " lie, and its end is");
    buffer_text(&maker->words, " long enough: nothing comes off.");
    put_go_on(maker, sheet, mishap, &mishap->ways[WAY_AGAIN]);
}

static const char *what_to_do(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap)
{
    if (turns_left(mishap) || is_of_crosswrap(maker, mishap))
        buffer_text(&maker->words, "Hold the last turn that lies and tape it first. ");
    if (mishap->kind == MISHAP_SPOOL_EMPTY && mishap->followed == WAY_AGAIN)
        put_long_enough(maker, sheet, mishap);
    else {
        buffer_text(&maker->words, "This sheet goes on by ");
        put_way(maker, sheet, mishap, mishap->followed, true);
    }
    return maker_take(maker);
}

/* --- the other way --- */

static const char *fault_words(WayFault fault)
{
    static const char *const words[] = {
#define X(name, text) [WAY_FAULT_##name] = text,
        WAY_FAULT_TABLE(X)
#undef X
    };
    return words[fault];
}

static const char *what_else(SheetMaker *maker, const Sheet *sheet, const Mishap *mishap)
{
    static const char *const words[WAY_COUNT] = {
#define X(name, word) [WAY_##name] = word,
        WAY_TABLE(X)
#undef X
    };
    if (mishap->ways[WAY_AGAIN].fault)
        buffer_format(&maker->words, "The same turns cannot go on: %s. ",
                      fault_words(mishap->ways[WAY_AGAIN].fault));
    WayOn other = mishap->followed == WAY_RESTART ? WAY_SPLICE : WAY_RESTART;
    const MishapWay *way = &mishap->ways[other];
    if (way->open) {
        buffer_text(&maker->words, "The other way is ");
        put_way(maker, sheet, mishap, other, false);
        buffer_format(&maker->words, " For that write `, %s` behind this --mishap.", words[other]);
    } else if (other == WAY_SPLICE)
        buffer_format(&maker->words, "No splice: %s.", fault_words(way->fault));
    return maker_take(maker);
}

void sheet_mishaps(SheetMaker *maker, Sheet *sheet)
{
    const Mishaps *mishaps = &maker->plan->job->mishaps;
    sheet->mishap_count = mishaps->count;
    sheet->mishaps = arena_take_many(maker->arena, mishaps->count, sizeof *sheet->mishaps);
    for (uint32_t i = 0; i < mishaps->count; i++) {
        const Mishap *mishap = &mishaps->items[i];
        sheet->mishaps[i] = (SheetMishap){.mishap = mishap,
                                          .was = what_it_was(maker, mishap),
                                          .now = what_to_do(maker, sheet, mishap),
                                          .other = what_else(maker, sheet, mishap)};
    }
}
