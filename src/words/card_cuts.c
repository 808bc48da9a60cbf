/* What is cut for a card's place: equal pieces of one thread on one line. */
#include "words/card_maker.h"

#include "base/sort.h"

#include <stdlib.h>

typedef struct OwnCut {
    const Cut *cut;
    const char *what, *length;
    uint32_t thread; /* index; UINT32_MAX for a loop */
    uint32_t order;  /* of the first that is alike */
} OwnCut;

/* Alike ones side by side, in the order in which they are needed. */
static int compare_alike(const void *left, const void *right)
{
    const OwnCut *a = left, *b = right;
    int order = ORDER(a->thread, b->thread);
    order = order ? order : strcmp(a->what, b->what);
    order = order ? order : strcmp(a->length, b->length);
    return order ? order : ORDER(a->cut->number, b->cut->number);
}

static bool are_alike(const OwnCut *a, const OwnCut *b)
{
    return a->thread == b->thread && strcmp(a->what, b->what) == 0 && strcmp(a->length, b->length) == 0;
}

static int compare_cards(const void *left, const void *right)
{
    return ORDER(((const CardCut *)left)->first_action, ((const CardCut *)right)->first_action);
}

/* "mist 10", "mist 1, 3 and 5 to 7": of pieces first to end - 1, alike and by their numbers. */
static const char *labels(SheetMaker *maker, const OwnCut *cuts, uint32_t count)
{
    buffer_format(&maker->words, "%s ", maker->names[cuts->thread]);
    for (uint32_t i = 0, next; i < count; i = next) {
        for (next = i + 1; next < count && cuts[next].cut->number == cuts[next - 1].cut->number + 1;)
            next++;
        next = next - i > 2 ? next : i + 1; /* two stand side by side as they are */
        buffer_text(&maker->words, i == 0 ? "" : next == count ? " and " : ", ");
        buffer_format(&maker->words, "%u", (unsigned)cuts[i].cut->number);
        if (next - i > 2)
            buffer_format(&maker->words, " to %u", (unsigned)cuts[next - 1].cut->number);
    }
    return maker_take(maker);
}

static OwnCut own_cut(SheetMaker *maker, const Cut *cut)
{
    OwnCut own = {.cut = cut, .what = cut_what(maker, cut)};
    own.thread = maker->rod->rod->pieces[cut->piece].thread->index;
    maker_cut(maker, cut->length);
    own.length = maker_take(maker);
    return own;
}

void card_cuts(SheetMaker *maker, const Cut *cuts, uint32_t count, Card *card)
{
    OwnCut *own = arena_take_many(maker->arena, count, sizeof *own);
    for (uint32_t i = 0; i < count; i++)
        own[i] = own_cut(maker, &cuts[i]);
    if (count)
        qsort(own, count, sizeof *own, compare_alike);
    card->cuts = arena_take_many(maker->arena, count + 1, sizeof *card->cuts);
    for (uint32_t i = 0, end; i < count; i = end) {
        for (end = i + 1; end < count && are_alike(&own[i], &own[end]);)
            end++;
        card->cuts[card->cut_count++] =
            (CardCut){.labels = labels(maker, &own[i], end - i),
                      .what = own[i].what,
                      .length = own[i].length,
                      .count = end - i,
                      .colour = maker->rod->rod->pieces[own[i].cut->piece].thread->colour,
                      .first_action = own[i].cut->action};
    }
    if (card->cut_count)
        qsort(card->cuts, card->cut_count, sizeof *card->cuts, compare_cards);
}
