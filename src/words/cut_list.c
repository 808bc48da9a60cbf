/* The cut list of a rod, in words. */
#include "words/sheet_maker.h"

#include "base/visible.h"

const char *cut_what(SheetMaker *maker, const Cut *cut)
{
    static const char *const words[] = {
#define X(name, words) words,
        CUT_TABLE(X)
#undef X
    };
    const Piece *piece = cut->piece == NO_PIECE ? NULL : &maker->rod->rod->pieces[cut->piece];
    const char *what = piece && piece->spacer ? "spool, as a spacer" : words[cut->kind];
    const Text *code = piece ? piece->thread->code : NULL;
    const char *lot = piece ? thread_lot(maker->plan->job, piece->thread) : NULL;
    if (code)
        what = text_format(maker->arena, "%s, code %s", what, visible(maker->arena, code->bytes));
    return lot ? text_format(maker->arena, "%s, lot %s", what, visible(maker->arena, lot)) : what;
}

static SheetCut words_of_cut(SheetMaker *maker, const SheetRod *rod, const Cut *cut)
{
    SheetCut made = {.what = cut_what(maker, cut),
                     .first_action = maker->numbered + cut->action + 1,
                     .first_step = rod->actions[cut->action].step,
                     .loop = cut->kind == CUT_LOOP,
                     .thread = UINT32_MAX,
                     .number = cut->number,
                     .colour = NO_COLOUR};
    if (!made.loop) {
        const Piece *piece = &maker->rod->rod->pieces[cut->piece];
        made.thread = piece->thread->index;
        made.place = piece->place;
        made.colour = piece->thread->colour;
    }
    made.label = cut->kind == CUT_LOOP ? text_format(maker->arena, "loop %u", (unsigned)cut->number)
                                       : piece_label(maker, cut->piece);
    maker_cut(maker, cut->length);
    made.length = maker_take(maker);
    return made;
}

/* Pieces come in the order of their actions, and so do loops: the two are merged. */
void sheet_cuts(SheetMaker *maker, SheetRod *rod)
{
    const BenchRod *bench = maker->rod;
    uint32_t loops = 0;
    while (loops < bench->cut_count && bench->cuts[loops].kind != CUT_LOOP)
        loops++;
    rod->cuts = arena_take_many(maker->arena, bench->cut_count, sizeof *rod->cuts);
    uint32_t piece = 0, loop = loops;
    while (rod->cut_count < bench->cut_count) {
        bool take_loop =
            piece == loops || (loop < bench->cut_count && bench->cuts[loop].action < bench->cuts[piece].action);
        rod->cuts[rod->cut_count++] = words_of_cut(maker, rod, &bench->cuts[take_loop ? loop++ : piece++]);
    }
}
