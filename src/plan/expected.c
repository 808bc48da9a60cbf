/* How sure the widths are that will be measured of a layer, those of its items, and where its runs end. */
#include "plan/layout.h"

#include "base/halfway.h"
#include "base/limits.h"
#include "plan/measurings.h"
#include "plan/turns_so_far.h"

#include <math.h>

static void expect_measurings(Layout *layout)
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

/* Where its middle comes to lie on a taper is as sure as the widths up to there, and the mark. */
static void lies_along(const Layout *layout, Run *run, double sure_before)
{
    const Blank *surface = layout->rod->surface;
    double middle = hypot((sure_before + run->sure) / 2, mark_sure(&layout->job->bench));
    double taper = (blank_diameter_beside(surface, run->end, run->start)
                    - blank_diameter_beside(surface, run->start, run->end))
                   / fabs(run->end - run->start);
    double longer = TRADE_PI * run->turns * taper * middle;
    if (longer > 0)
        run->length_sure.threads += (float)longer;
    else
        run->length_sure.along -= (float)longer;
}

/* A gap is as wide as it is written. */
static void expect_run(const Layout *layout, WidthSure *so_far, WidthSure *item, Run *run)
{
    double before = width_sure_uncertainty(so_far);
    run->sure = before;
    if (!run->strands)
        return;
    width_sure_add(so_far, run->strands, run->turns);
    width_sure_add(item, run->strands, run->turns);
    run->sure = width_sure_uncertainty(so_far);
    lies_along(layout, run, before);
}

static void expect_runs(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    WidthSure so_far, own;
    width_sure_start(&so_far, layout->scratch, layout->learning, &layout->widths);
    width_sure_start(&own, layout->scratch, layout->learning, &layout->item_widths);
    for (uint32_t i = 0; i < layer->item_count; i++) {
        PlannedItem *item = &layer->items[i];
        width_sure_again(&own);
        for (uint32_t r = 0; r < item->run_count; r++)
            expect_run(layout, &so_far, &own, &layer->runs[item->first_run + r]);
        item->sure = width_sure_uncertainty(&own);
    }
}

void expect_widths(Layout *layout)
{
    expect_measurings(layout);
    expect_runs(layout);
}

double uncertainty_at(const PlannedLayer *layer, uint64_t turn)
{
    uint32_t low = 0, high = layer->expected_count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (layer->expected[middle].turn >= turn)
            high = middle;
        else
            low = middle + 1;
    }
    return low < layer->expected_count ? layer->expected[low].uncertainty : 0;
}
