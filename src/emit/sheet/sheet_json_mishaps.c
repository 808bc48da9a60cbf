/* What happened, as data: where it was found, and both ways with what each takes. */
#include "emit/sheet/sheet_json.h"

#include <math.h>

static const char *const kinds[MISHAP_KIND_COUNT] = {
#define X(name, word, ...) [MISHAP_##name] = word,
    MISHAP_TABLE(X)
#undef X
};
static const char *const way_words[WAY_COUNT] = {
#define X(name, word) [WAY_##name] = word,
    WAY_TABLE(X)
#undef X
};

static void put_lost(JsonPage *page, const MishapWay *way)
{
    page_open(page, "lost", '[');
    for (uint32_t i = 0; i < way->lost_count; i++) {
        page_open_flat(page, NULL, '{');
        page_text(page, "thread", way->lost[i].thread->name->bytes);
        page_whole(page, "number", way->lost[i].number);
        page_number(page, "lost_mm", way->lost[i].lost);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_way(JsonPage *page, const Mishap *mishap, WayOn kind)
{
    const MishapWay *way = &mishap->ways[kind];
    if (!way->open)
        return;
    page_open(page, NULL, '{');
    page_text(page, "way", way_words[kind]);
    page_truth(page, "followed", kind == mishap->followed);
    page_whole(page, "to_turn", way->turn);
    page_whole(page, "unwound_turns", way->unwound);
    if (kind == WAY_SPLICE) {
        page_whole(page, "splice_turn", way->splice);
        page_number(page, "hangs_mm", way->hangs);
    }
    page_whole(page, "go_on_step", way->step);
    page_whole(page, "go_on_action", way->action + 1);
    page_whole(page, "made_turns", way->made);
    page_truth(page, "stays_cut", way->stays_cut);
    put_lost(page, way);
    page_close(page, '}');
}

static void put_mishap(JsonPage *page, const SheetMishap *told)
{
    const Mishap *mishap = told->mishap;
    bool counted = mishap->kind != MISHAP_LOOP_TORN && mishap->kind != MISHAP_TAG_OUT;
    page_open(page, NULL, '{');
    page_whole(page, "step", mishap->step);
    page_text(page, "mishap", kinds[mishap->kind]);
    if (counted)
        page_whole(page, "turns", mishap->turns);
    page_whole(page, "rod", mishap->rod);
    page_whole(page, "place", mishap->place);
    page_whole(page, "layer", mishap->layer);
    page_whole(page, "layer_turn", mishap->turn);
    page_text(page, "thread", mishap->thread->name->bytes);
    page_whole(page, "number", mishap->number);
    page_text(page, "was", told->was);
    page_text(page, "now", told->now);
    put_words(page, "other", told->other);
    page_open(page, "ways", '[');
    for (WayOn way = 0; way < WAY_COUNT; way++)
        put_way(page, mishap, way);
    page_close(page, ']');
    page_close(page, '}');
}

void put_mishaps(JsonPage *page, const Sheet *sheet)
{
    if (!sheet->mishap_count)
        return;
    page_open(page, "mishaps", '[');
    for (uint32_t i = 0; i < sheet->mishap_count; i++)
        put_mishap(page, &sheet->mishaps[i]);
    page_close(page, ']');
}
