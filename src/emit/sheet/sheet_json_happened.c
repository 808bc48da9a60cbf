/* What happened at the bench so far, as a record has it (grammar/record.schema.json). */
#include "emit/sheet/sheet_json.h"

static void put_turns(JsonPage *page, const RecordedEvent *event)
{
    page_open(page, "made", '[');
    for (uint32_t i = 0; i < event->made_count; i++) {
        page_open_flat(page, NULL, '{');
        page_text(page, "thread", event->made[i].thread);
        page_number(page, "nominal_turn", event->made[i].nominal);
        page_whole(page, "turns", event->made[i].turns);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_measured(JsonPage *page, const RecordedEvent *event)
{
    page_number(page, "width", event->width);
    if (event->turns)
        page_whole(page, "turns", event->turns);
    if (event->sure)
        page_truth(page, "sure", true);
    if (!event->made_count)
        return;
    put_turns(page, event);
    page_number(page, "gaps", event->gaps);
    page_whole(page, "wrap", event->wrap);
}

static void put_mishap(JsonPage *page, const RecordedEvent *event)
{
    static const char *const words[] = {
#define X(name, word) [RECORDED_##name] = word,
        RECORDED_TABLE(X)
#undef X
    };
    static const char *const ways[] = {[RECORDED_SPLICE] = "splice", [RECORDED_RESTART] = "restart"};
    page_text(page, "mishap", words[event->kind]);
    page_whole(page, "turns", event->turns);
    if (event->way != RECORDED_EITHER)
        page_text(page, "way", ways[event->way]);
}

void put_happened(JsonPage *page, const Job *job)
{
    page_open(page, "happened", '[');
    for (uint32_t i = 0; i < job->happened.count; i++) {
        const RecordedEvent *event = &job->happened.items[i];
        page_open(page, NULL, '{');
        page_whole(page, "step", event->step);
        if (event->sheet != i)
            page_whole(page, "sheet", event->sheet);
        if (event->kind == RECORDED_MEASURED)
            put_measured(page, event);
        else
            put_mishap(page, event);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_left_out_of(JsonPage *page, const PlannedLayer *layer, bool *begun)
{
    for (uint32_t i = 0; i < layer->left_out_count; i++) {
        if (!layer->left_out[i].event)
            continue;
        if (!*begun)
            page_open_flat(page, "left_out", '[');
        *begun = true;
        page_whole(page, NULL, layer->left_out[i].event - 1);
    }
}

void put_left_out(JsonPage *page, const Plan *plan)
{
    bool begun = false;
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t p = 0; p < plan->rods[r].place_count; p++)
            for (uint32_t l = 0; l < plan->rods[r].places[p].layer_count; l++)
                put_left_out_of(page, &plan->rods[r].places[p].layers[l], &begun);
    if (begun)
        page_close(page, ']');
}
