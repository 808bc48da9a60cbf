#include "check/rules/held.h"

#include "trade/trade.h"

/* The way out: make a band longer. */

enum { MOST_TRIES = 64 };

/* The fewest turns more, at the boundary `at`, that mend this fault and bring no other kind of fault into the
 * wrap; 0 if a few turns do not. */
static uint64_t turns_needed(const Check *check, const LayerView *view, const Fault *fault, uint64_t at)
{
    const WrapView *wrap = &view->wraps[fault->wrap];
    unsigned known = wrap_faults(check, view, wrap, AS_PLANNED);
    uint64_t least = (uint64_t)(fault->need - (double)fault->have + 0.999);
    for (uint64_t turns = least; turns < least + MOST_TRIES; turns++) {
        Fault left[2];
        unsigned count = piece_faults(check, view, wrap, fault->piece, (Longer){at, turns}, left);
        bool mended = true;
        for (unsigned i = 0; i < count; i++)
            mended = mended && left[i].code != fault->code;
        if (mended && !(wrap_faults(check, view, wrap, (Longer){at, turns}) & ~known))
            return turns;
    }
    return 0;
}

/* Turns from the wrap's start to the end of an item in it. */
static uint64_t end_of_item(const LayerView *view, const WrapView *wrap, uint32_t item)
{
    uint64_t turns = 0;
    for (uint32_t i = wrap->wrap.first_run; i < wrap->wrap.end_run && view->layer->runs[i].item <= item; i++)
        turns += view->layer->runs[i].turns;
    return turns;
}

/* Whether a band's extent can be changed where it stands: in this file, turns or a length, room for it, and no
 * inlays in it whose places would shift. */
static bool can_grow(const LayerView *view, uint32_t index, uint64_t turns)
{
    const PlannedItem *planned = &view->layer->items[index];
    const Item *item = planned->item;
    if (item->kind != ITEM_BAND || item->inlay_count || item->extent.span.file != 0)
        return false;
    if (item->extent.kind != EXTENT_TURNS && item->extent.kind != EXTENT_LENGTH)
        return false;
    /* NAN where no length was given, and fills give way. */
    double room = view->layer->length - view->layer->width;
    return view->layer->layer->group_count || !(room < (double)turns * item->strands->pitch);
}

static void grow(const Check *check, Finding *finding, const Item *item, uint64_t turns)
{
    const char *count = show_turns(check->findings->words, (double)turns);
    double width = (double)turns * item->strands->pitch;
    UnitSystem units = check->bench->units;
    finding_mend(check->findings, finding, "make the band of %s at least %s wide (%s)",
                 first_thread_name(item->strands), count, show_length(check->findings->words, units, width));
    Span span = item->extent.span;
    if (is_plain_quantity(check, span))
        finding_edit(check->findings, finding, span, "%s", count);
    else
        finding_edit(check->findings, finding, span, "max(%s, %s)", source_text(check, span),
                     item->extent.kind == EXTENT_TURNS
                         ? count
                         : write_length(check->findings->words, writing_of(check, span), width));
}

bool grow_a_band(const Check *check, const LayerView *view, const Fault *fault, uint32_t last, Finding *finding)
{
    const WrapView *wrap = &view->wraps[fault->wrap];
    uint32_t first = view->layer->runs[wrap->wrap.first_run].item;
    for (uint32_t i = last + 1; i-- > first;) {
        if (!can_grow(view, i, 1))
            continue;
        uint64_t turns = turns_needed(check, view, fault, end_of_item(view, wrap, i));
        if (turns && can_grow(view, i, turns)) {
            grow(check, finding, view->layer->items[i].item, view->layer->items[i].turns + turns);
            return true;
        }
    }
    return false;
}

/* The way out: ask less of the bench. */

void ask_less(const Check *check, Finding *finding, BenchOption option, const char *name, uint64_t turns)
{
    const char *count = show_turns(check->findings->words, (double)turns);
    finding_mend(check->findings, finding, "if fewer turns hold your thread, write `%s: %s` in bench { }", name,
                 count);
    edit_bench(check, finding, option, count);
}

/* The way out of an inlay: set it further in. */

static const Inlay *inlay_of(const LayerView *view, const Piece *piece)
{
    const Item *item = item_of_run(view, piece->first_run);
    Span span = view->layer->runs[piece->first_run].span;
    for (uint32_t i = 0; i < item->inlay_count; i++)
        if (item->inlays[i].span.start == span.start && item->inlays[i].span.file == span.file)
            return &item->inlays[i];
    return NULL;
}

/* Turns of the band that the inlay's turns stand for. */
static uint64_t turns_replaced(const Item *item, const Run *run)
{
    double turns = turns_in_width(run->turns * run->strands->pitch, item->strands->pitch);
    return turns < 1 ? 1 : (uint64_t)turns;
}

/* Turns of the band after the inlay that is run `run`, up to the next inlay. */
static uint64_t turns_after(const LayerView *view, uint32_t run)
{
    const PlannedLayer *layer = view->layer;
    uint32_t next = run + 1;
    if (next >= layer->run_count || layer->runs[next].item != layer->runs[run].item)
        return 0;
    return layer->runs[next].role == RUN_BAND ? layer->runs[next].turns : 0;
}

bool move_inlay(const Check *check, const LayerView *view, const Fault *fault, Finding *finding)
{
    const Piece *piece = view->pieces[fault->piece];
    const Item *item = item_of_run(view, piece->first_run);
    const Inlay *inlay = inlay_of(view, piece);
    uint64_t on = (uint64_t)(fault->need - (double)fault->have + 0.999);
    bool first = view->layer->items[view->layer->runs[piece->first_run].item].first_run + 1 == piece->first_run;
    if (!first || !inlay || inlay->every || item->reversed || inlay->at_span.file != 0
        || !is_plain_quantity(check, inlay->at_span) || turns_after(view, piece->first_run) <= on)
        return false;
    const Run *run = &view->layer->runs[piece->first_run];
    uint64_t middle = run[-1].turns + on + turns_replaced(item, run) / 2;
    const char *count = show_turns(check->findings->words, (double)middle);
    finding_mend(check->findings, finding, "move the inlay further in: write `at: %s`", count);
    finding_edit(check->findings, finding, inlay->at_span, "%s", count);
    return true;
}
