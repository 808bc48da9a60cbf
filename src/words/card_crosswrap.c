/* What a card says of a crosswrap. */
#include "words/card_maker.h"

#include "plan/plan_sums.h"
#include "words/crosswrap_words.h"

#include <math.h>

static const PlannedPlace *place_of(const SheetMaker *maker, const SheetPart *part)
{
    return &maker->rod->rod->places[part->place];
}

static long whole_degrees(double clock) { return lround(clock) % 360; }

/* "pass 1 out from 0 to 216 deg, back from 259 to 115 deg": of the first strand, for every start; all others are
 * laid against it. */
static void put_first_passes(SheetMaker *maker, const SheetPart *part, const PlannedCrosswrap *planned)
{
    uint32_t told = UINT32_MAX;
    for (uint32_t i = part->first; i < part->first + part->count; i++) {
        const Action *action = &maker->rod->actions[i];
        if (action->kind != ACTION_LEG || action->leg.pass >= planned->starts)
            continue;
        if (action->leg.pass == told)
            buffer_text(&maker->words, ", ");
        else
            buffer_format(&maker->words, "; pass %u ", (unsigned)action->leg.pass + 1);
        told = action->leg.pass;
        buffer_text(&maker->words, action->leg.leg == LEG_OUT ? "out from " : "back from ");
        buffer_format(&maker->words, "%ld to %ld deg", whole_degrees(action->leg.from_clock),
                      whole_degrees(action->leg.to_clock));
    }
}

static const char *setting(SheetMaker *maker, const SheetPart *part, const PlannedCrosswrap *planned)
{
    buffer_format(&maker->words, "Wound %s, seen from the butt", sense_word(planned));
    for (uint32_t family = 1; family <= crosswrap_families(planned); family++) {
        buffer_text(&maker->words, "; ");
        put_family(&maker->words, maker->bench->units, &maker->bench->rule, place_of(maker, part), planned,
                   family);
    }
    put_first_passes(maker, part, planned);
    buffer_text(&maker->words, ". The strands first, then the end bands over their ends.");
    return maker_take(maker);
}

/* "in laying order: 4 slate along the marks; 1 mist on the tip side". */
static const char *strands(SheetMaker *maker, const PlannedCrosswrap *planned)
{
    buffer_text(&maker->words, "in this order: ");
    for (uint32_t i = 0; i < planned->strand_count;) {
        StrandGroup group = strand_group(planned, i);
        const BundleStrand *strand = &planned->strands[i];
        buffer_format(&maker->words, "%s%u %s%s %s", i ? "; " : "", (unsigned)group.count,
                      strand->spacer ? "spacer " : "", maker->names[strand->thread->index],
                      laid_words(&group, planned->crosswrap->kind));
        i += group.count;
    }
    if (planned->starts > 1)
        buffer_format(&maker->words, "; each for all %u starts before the next", (unsigned)planned->starts);
    buffer_text(&maker->words, leg_count(planned) > 1 ? "; each out and back" : "");
    return maker_take(maker);
}

void card_crosswrap(SheetMaker *maker, const SheetPart *part, CardLayer *card)
{
    const PlannedCrosswrap *planned = place_of(maker, part)->layers[part->layer].crosswrap;
    card->setting = setting(maker, part, planned);
    CardLine *line = card->lines;
    while (line->strands) /* an end band's */
        line++;
    line->thread = crosswrap_word(planned);
    line->count = text_format(maker->arena, planned->pass_count == 1 ? "%u pass" : "%u passes",
                              (unsigned)planned->pass_count);
    line->how = strands(maker, planned);
}
