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
