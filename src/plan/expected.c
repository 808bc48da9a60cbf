/* How sure the widths are that will be measured of a layer. */
#include "plan/layout.h"

#include "base/limits.h"
#include "plan/measurings.h"
#include "plan/turns_so_far.h"

void expect_widths(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    Measurings measurings = measurings_start(layer, &layout->job->bench);
    LIST_OF(ExpectedWidth) expected = {0};
    ThreadWidths *widths = &layout->widths;
    thread_widths_clear(widths);
    TurnsSoFar so_far = {.layer = layer};
    while (expected.count < LIMIT_BENCH_STEPS && measurings_next(&measurings)) { /* no sheet has more */
        turns_go_on(&so_far, widths, measurings.turn);
        *LIST_ADD(layout->arena, &expected) =
            (ExpectedWidth){measurings.turn, width_uncertainty(layout->learning, widths)};
    }
    layer->expected = expected.items;
    layer->expected_count = expected.count;
}

double uncertainty_at(const PlannedLayer *layer, uint64_t turn)
{
    uint32_t low = 0, high = layer->expected_count;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        if (layer->expected[middle].turn >= turn)
            high = middle;
        else
            low = middle + 1;
    }
    return low < layer->expected_count ? layer->expected[low].uncertainty : 0;
}
