#include "words/trade_words.h"

const char *role_word(RunRole role)
{
    static const char *const words[] = {
#define X(name, words) [RUN_##name] = words,
        RUN_TABLE(X)
#undef X
    };
    return words[role];
}

const char *toward_word(int direction) { return direction < 0 ? "butt" : "tip"; }
const char *layer_word(const Layer *layer) { return layer->over ? "over" : "under"; }

void put_strands(Buffer *buffer, const Strands *strands)
{
    for (uint32_t i = 0; strands && i < strands->count; i++) {
        const Strand *strand = &strands->items[i];
        buffer_text(buffer, i ? " + " : "");
        buffer_text(buffer, strand->spacer ? "spacer " : "");
        buffer_put(buffer, strand->thread->name->bytes, strand->thread->name->length);
    }
}

const char *place_of_need(Arena *arena, const Plan *plan, const Need *need)
{
    const PlannedRod *rod = &plan->rods[need->rod];
    return place_label(arena, plan->job, rod->rod, &rod->places[need->place]);
}
