#include "words/trade_words.h"

#include "plan/direction.h"

const char *role_word(RunRole role)
{
    static const char *const words[] = {
#define X(name, words) [RUN_##name] = words,
        RUN_TABLE(X)
#undef X
    };
    return words[role];
}

const char *turns_word(uint64_t turns) { return turns == 1 ? "turn" : "turns"; }

const char *toward_word(int direction) { return toward_tip(direction) ? "tip" : "butt"; }
const char *layer_word(const Layer *layer) { return layer->over ? "over" : "under"; }

const char *caution(uint32_t number)
{
    static const char *const cautions[] = {
        "A nick from a blade is where a blank breaks under load: cut away from the blank, never press, never draw the "
        "blade round it.",
        "Uncured epoxy irritates skin and eyes and can sensitise: wear gloves, air the room, follow the maker's "
        "safety data sheet.",
        "Keep hair, sleeves and loose thread clear of a powered spindle.",
        "Load ratings of rods and guides are their makers' word, not this program's.",
    };
    return number < sizeof cautions / sizeof *cautions ? cautions[number] : NULL;
}

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
