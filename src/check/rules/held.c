#include "check/rules/held.h"

/* T401, T402, T403: every thread is held before it is relied on and after it is cut. All turns made over a
 * tag or over an end count, whichever thread makes them. The counts themselves (bind, loop, final) are the
 * builder's, from bench { }; their defaults are common practice, no source. */

typedef struct Faults {
    LIST_OF(Fault) list;
    Cases cases[3]; /* T401, T402, T403; Case.detail is the index into list */
} Faults;
_Static_assert(FINDING_LOOP_TOO_SHORT == FINDING_NOT_HELD + 1 && FINDING_NOT_ENDED == FINDING_NOT_HELD + 2,
               "the three follow one another");

static uint64_t moved(uint64_t turn, Longer longer) { return turn >= longer.at ? turn + longer.turns : turn; }

/* The start of a piece. A band's tag may lie under the turns before it or under those from its start on; the
 * tag of a fade or an inlay only under those before: its thread works by turns. What begins a wrap winds over
 * its own tag. */
static bool start_fault(const Check *check, const LayerView *view, const Piece *piece, uint64_t before,
                        uint64_t total, Fault *fault)
{
    double bind = check->bench->bind;
    bool band = view->layer->runs[piece->first_run].role == RUN_BAND;
    uint64_t under = total - before;
    fault->need = bind;
    if (before == 0 || band) {
        fault->code = FINDING_NOT_ENDED;
        fault->have = before > under ? before : under;
    } else {
        fault->code = FINDING_NOT_HELD;
        fault->have = before;
    }
    return (double)fault->have < bind;
}

/* The end of a piece: under the turns that follow if they are enough to bind it, else over a loop. */
static bool end_fault(const Check *check, uint64_t end, uint64_t total, Fault *fault)
{
    const Bench *bench = check->bench;
    fault->code = FINDING_LOOP_TOO_SHORT;
    fault->have = end;
    fault->need = end == total ? bench->final : bench->loop;
    bool loop = end == total || (double)(total - end) < bench->bind;
    return loop && (double)end < fault->need;
}

enum { NOT_HELD = 1, LOOP_TOO_SHORT = 2, NOT_ENDED = 4 };

static unsigned bit_of(FindingCode code)
{
    return code == FINDING_NOT_HELD ? NOT_HELD : code == FINDING_LOOP_TOO_SHORT ? LOOP_TOO_SHORT : NOT_ENDED;
}

unsigned piece_faults(const Check *check, const LayerView *view, const WrapView *wrap, uint32_t index,
                      Longer longer, Fault found[2])
{
    const Piece *piece = view->pieces[index];
    if (piece->spacer)
        return 0;
    uint64_t total = moved(wrap->wrap.end_turn - wrap->wrap.first_turn, longer);
    uint64_t before = piece->first_turn - wrap->wrap.first_turn;
    uint64_t end = piece->end_turn - wrap->wrap.first_turn;
    unsigned count = start_fault(check, view, piece, moved(before, longer), total, &found[0]);
    count += end_fault(check, moved(end, longer), total, &found[count]);
    for (unsigned i = 0; i < count; i++)
        found[i].piece = index;
    return count;
}

unsigned wrap_faults(const Check *check, const LayerView *view, const WrapView *wrap, Longer longer)
{
    unsigned bits = 0;
    Fault found[2];
    for (uint32_t i = wrap->first_piece; i < wrap->end_piece; i++)
        for (unsigned n = piece_faults(check, view, wrap, i, longer, found); n > 0; n--)
            bits |= bit_of(found[n - 1].code);
    return bits & LOOP_TOO_SHORT ? bits & ~(unsigned)NOT_ENDED : bits;
}

const Item *item_of_run(const LayerView *view, uint32_t run)
{
    return view->layer->items[view->layer->runs[run].item].item;
}

static Span fault_span(const LayerView *view, const Fault *fault)
{
    const Piece *piece = view->pieces[fault->piece];
    if (fault->code == FINDING_LOOP_TOO_SHORT)
        return item_of_run(view, piece->last_run)->span;
    const Item *item = item_of_run(view, piece->first_run);
    if (view->layer->runs[piece->first_run].role == RUN_INLAY)
        return view->layer->runs[piece->first_run].span;
    return item->kind == ITEM_FADE ? item->strands_span : item->span;
}

/* Strands wound together begin and end together: one of them speaks for all. */
static bool told(const LayerView *view, const Faults *faults, uint32_t known, const Fault *fault)
{
    if (faults->list.count == known)
        return false;
    const Fault *last = &faults->list.items[faults->list.count - 1];
    const Piece *a = view->pieces[last->piece], *b = view->pieces[fault->piece];
    return last->code == fault->code && last->wrap == fault->wrap && a->first_run == b->first_run
           && a->last_run == b->last_run;
}

static void collect(const Check *check, uint32_t index, Faults *faults)
{
    const LayerView *view = &check->layers[index];
    uint32_t known = faults->list.count;
    if (view->layer->crosswrap)
        return; /* its end bands have a rule of their own, T608 */
    for (uint32_t w = 0; w < view->wrap_count; w++) {
        const WrapView *wrap = &view->wraps[w];
        unsigned bits = wrap_faults(check, view, wrap, AS_PLANNED);
        Fault found[2];
        for (uint32_t i = bits ? wrap->first_piece : wrap->end_piece; i < wrap->end_piece; i++) {
            for (unsigned n = piece_faults(check, view, wrap, i, AS_PLANNED, found); n > 0; n--) {
                Fault fault = found[n - 1];
                fault.wrap = w;
                if (!(bits & bit_of(fault.code)) || told(view, faults, known, &fault))
                    continue;
                cases_add(check->arena, &faults->cases[fault.code - FINDING_NOT_HELD], fault_span(view, &fault),
                          fault.need - (double)fault.have, index, faults->list.count);
                *LIST_ADD(check->arena, &faults->list) = fault;
            }
        }
    }
}

/* What bench { } takes at the least: meaning/bench_table.h; common practice, no source. */
enum { LEAST_BIND = 4, LEAST_LOOP = 2 };

static const char *number(const Check *check, double value)
{
    return show_number(check->findings->words, value, 3);
}

/* Marks the statements before an item, nearest first. */
static void relate_before(const Check *check, const LayerView *view, const Fault *fault, Finding *finding)
{
    const PlannedLayer *layer = view->layer;
    const Piece *piece = view->pieces[fault->piece];
    uint32_t item = layer->runs[piece->first_run].item;
    uint32_t first = layer->runs[view->wraps[fault->wrap].wrap.first_run].item;
    Span own = layer->items[item].item->span;
    if (layer->runs[piece->first_run].role == RUN_INLAY)
        finding_relate(check->findings, finding, layer->items[item].item->extent.span, "in this band");
    for (uint32_t i = item; i-- > first && finding->related_count < FINDING_RELATED;) {
        Span span = layer->items[i].item->span;
        if (span.start != own.start || span.file != own.file)
            finding_relate(check->findings, finding, span, "%s: %s",
                           i == first && i + 1 == item ? "all there is before it" : "before it",
                           show_turns(check->findings->words, layer->items[i].turns));
    }
}

static void say_not_held(const Check *check, const LayerView *view, const Fault *fault, Case place)
{
    const Piece *piece = view->pieces[fault->piece];
    uint32_t item = view->layer->runs[piece->first_run].item;
    Finding *finding = finding_add(check->findings, fault->code, place.span,
                                   "%s is not held before its first turn", piece->thread->name->bytes);
    finding->times = place.times;
    finding_label(check->findings, finding, "its tag lies under %s; %s are needed",
                  show_turns(check->findings->words, (double)fault->have), number(check, fault->need));
    relate_before(check, view, fault, finding);
    if (view->layer->runs[piece->first_run].role == RUN_INLAY && move_inlay(check, view, fault, finding))
        return;
    if (item > 0 && grow_a_band(check, view, fault, item - 1, finding))
        return;
    if (fault->have >= LEAST_BIND)
        ask_less(check, finding, BENCH_BIND, "bind", fault->have);
    else
        finding_mend(check->findings, finding, "wind at least %s before it in this wrap",
                     show_turns(check->findings->words, fault->need));
}

static void say_loop(const Check *check, const LayerView *view, const Fault *fault, Case place)
{
    const Piece *piece = view->pieces[fault->piece];
    const WrapView *wrap = &view->wraps[fault->wrap];
    uint64_t total = wrap->wrap.end_turn - wrap->wrap.first_turn;
    bool final = fault->have == total;
    const char *thread = piece->thread->name->bytes, *need = show_turns(check->findings->words, fault->need);
    Finding *finding = finding_add(check->findings, fault->code, place.span,
                                   final ? "this wrap is too short to end %s with a pull-through loop"
                                         : "%s ends with too few turns over its pull-through loop",
                                   thread);
    finding->times = place.times;
    if (final)
        finding_label(check->findings, finding, "the loop goes under the last %s; the wrap has %s", need,
                      number(check, (double)fault->have));
    else
        finding_label(check->findings, finding,
                      "its loop needs %s before this end and has %s; the %s after it are too few to bind", need,
                      number(check, (double)fault->have),
                      show_turns(check->findings->words, (double)(total - fault->have)));
    if (grow_a_band(check, view, fault, view->layer->runs[piece->last_run].item, finding))
        return;
    if (!final && fault->have >= LEAST_LOOP)
        ask_less(check, finding, BENCH_LOOP, "loop", fault->have);
    else if (final && (double)total >= check->bench->bind)
        ask_less(check, finding, BENCH_FINAL, "final", fault->have);
    else
        finding_mend(check->findings, finding, "wind %s before this end", need);
}

static void say_not_ended(const Check *check, const LayerView *view, const Fault *fault, Case place)
{
    const Piece *piece = view->pieces[fault->piece];
    const WrapView *wrap = &view->wraps[fault->wrap];
    uint64_t before = piece->first_turn - wrap->wrap.first_turn,
             total = wrap->wrap.end_turn - wrap->wrap.first_turn;
    Finding *finding = finding_add(check->findings, fault->code, place.span, "the tag of %s is not held",
                                   piece->thread->name->bytes);
    finding->times = place.times;
    if (before == 0)
        finding_label(check->findings, finding, "it lies under all %s of this wrap; %s are needed",
                      show_turns(check->findings->words, (double)total), number(check, fault->need));
    else
        finding_label(check->findings, finding, "%s before it and %s after its start; %s are needed on one side",
                      show_turns(check->findings->words, (double)before), number(check, (double)(total - before)),
                      number(check, fault->need));
    if (grow_a_band(check, view, fault, view->layer->runs[piece->first_run].item, finding))
        return;
    if (fault->have >= LEAST_BIND)
        ask_less(check, finding, BENCH_BIND, "bind", fault->have);
    else
        finding_mend(check->findings, finding, "wind at least %s on one side of its start",
                     show_turns(check->findings->words, fault->need));
}

void check_held(const Check *check)
{
    static void (*const say[])(const Check *, const LayerView *, const Fault *, Case) = {
        say_not_held,
        say_loop,
        say_not_ended,
    };
    Faults faults = {0};
    for (uint32_t i = 0; i < check->layer_count; i++)
        collect(check, i, &faults);
    for (unsigned kind = 0; kind < 3; kind++) {
        Cases *cases = &faults.cases[kind];
        cases_keep_worst(cases);
        for (uint32_t i = 0; i < cases->list.count; i++) {
            Case place = cases->list.items[i];
            say[kind](check, &check->layers[place.view], &faults.list.items[place.detail], place);
        }
    }
}
