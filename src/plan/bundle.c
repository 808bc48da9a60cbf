/* The bundle of a crosswrap: its strands side by side, in laying order, and how many a background takes. */
#include "plan/layout.h"

#include "base/limits.h"
#include "base/whole.h"

#include <math.h>

typedef struct Bundle {
    BundleStrand *strands;
    uint32_t count;
    uint32_t top, bottom; /* outermost strands so far */
    double top_edge, bottom_edge;
} Bundle;

/* One more: on the tip's side (+1), the butt's (-1), or (0) the first, its lower edge at the bundle's. */
static void add_strand(Bundle *bundle, const StrandLine *line, uint32_t index, int side)
{
    double width = line->thread->pitch;
    BundleStrand *strand = &bundle->strands[bundle->count];
    *strand = (BundleStrand){.thread = line->thread,
                             .spacer = line->spacer,
                             .width = width,
                             .side = side,
                             .neighbour = NO_STRAND,
                             .line = index,
                             .span = line->span};
    if (side != 0)
        strand->neighbour = side > 0 ? bundle->top : bundle->bottom;
    strand->middle = side < 0 ? bundle->bottom_edge - width / 2 : bundle->top_edge + width / 2;
    if (side >= 0) {
        bundle->top = bundle->count;
        bundle->top_edge += width;
    }
    if (side <= 0)
        bundle->bottom = bundle->count;
    if (side < 0)
        bundle->bottom_edge -= width;
    bundle->count++;
}

static void start_bundle(Bundle *bundle, double bottom) { bundle->top_edge = bundle->bottom_edge = bottom; }

/* The first line of a diamond: from its middle outward, alternately above and below. */
static void add_middle(Bundle *bundle, const StrandLine *line, uint32_t count)
{
    double width = line->thread->pitch;
    uint32_t below = count ? (count - 1) / 2 : 0, above = count ? count - 1 - below : 0;
    start_bundle(bundle, (below - count / 2.0) * width);
    if (count)
        add_strand(bundle, line, 0, 0);
    /* As many are to go above as below, or one more. */
    for (uint32_t i = 0; i < above + below; i++)
        add_strand(bundle, line, 0, i % 2 ? -1 : 1);
}

static void add_line(Bundle *bundle, const Crosswrap *crosswrap, uint32_t index, uint32_t count)
{
    const StrandLine *line = &crosswrap->lines[index];
    bool both = crosswrap->kind == CROSSWRAP_DIAMOND;
    if (both && index == 0) {
        add_middle(bundle, line, count);
        return;
    }
    for (uint32_t i = 0; i < count * (both ? 2 : 1); i++) {
        int side = both ? (i % 2 ? -1 : 1) : crosswrap->points_to_butt ? -1 : 1;
        add_strand(bundle, line, index, bundle->count ? side : 0);
    }
}

/* Strands that a line has in the bundle for each that it counts. */
static uint32_t copies_of(const Crosswrap *crosswrap, uint32_t index)
{
    return crosswrap->kind == CROSSWRAP_DIAMOND && index > 0 ? 2 : 1;
}

/* The background takes what comes nearest to closing the field where there is most room; beyond `most` it is not
 * to be laid. */
static double background_count(const Crosswrap *crosswrap, double room, uint32_t most)
{
    double others = 0, each = 0;
    for (uint32_t i = 0; i < crosswrap->line_count; i++) {
        const StrandLine *line = &crosswrap->lines[i];
        double width = copies_of(crosswrap, i) * line->thread->pitch;
        others += line->count * width;
        if (line->fill)
            each = width;
    }
    double count = each > 0 ? whole_below((room - others) / each + 0.5) : 0;
    return count < 0 ? 0 : fmin(count, (double)most + 1);
}

double bundle_background(const Crosswrap *crosswrap, double room)
{
    return background_count(crosswrap, room, LIMIT_PASSES);
}

double bundle_size(const Crosswrap *crosswrap, double room, uint32_t most)
{
    double count = 0, background = background_count(crosswrap, room, most);
    for (uint32_t i = 0; i < crosswrap->line_count; i++)
        count += copies_of(crosswrap, i) * (crosswrap->lines[i].fill ? background : crosswrap->lines[i].count);
    return count;
}

double bundle_parts(const Crosswrap *crosswrap, double room)
{
    double parts = 0, background = background_count(crosswrap, room, LIMIT_PASSES);
    for (uint32_t i = 0; i < crosswrap->line_count; i++) {
        const StrandLine *line = &crosswrap->lines[i];
        double strands = line->fill ? background : line->count;
        parts += copies_of(crosswrap, i) * (line->thread->colour_count ? strands : fmin(strands, 1));
    }
    return parts;
}

/* Where the bundle's line lies: the middle of the first strand, of a diamond's first line, of a whole spiral. */
static void centre(Bundle *bundle, const Crosswrap *crosswrap)
{
    double by = 0;
    if (crosswrap->kind == CROSSWRAP_CHEVRON)
        by = bundle->strands[0].middle;
    if (crosswrap->kind == CROSSWRAP_SPIRAL)
        by = bundle->top_edge / 2; /* each strand lies above the one before: its bottom is at 0 */
    for (uint32_t i = 0; i < bundle->count; i++)
        bundle->strands[i].middle -= by;
    bundle->bottom_edge -= by;
    bundle->top_edge -= by;
}

void make_bundle(Layout *layout, PlannedCrosswrap *planned, double room)
{
    const Crosswrap *crosswrap = planned->crosswrap;
    Bundle bundle = {0};
    bundle.strands = arena_take_many(layout->arena, planned->strand_count, sizeof *bundle.strands);
    uint32_t background = (uint32_t)background_count(crosswrap, room, planned->strand_count);
    for (uint32_t i = 0; i < crosswrap->line_count; i++)
        add_line(&bundle, crosswrap, i, crosswrap->lines[i].fill ? background : crosswrap->lines[i].count);
    if (bundle.count)
        centre(&bundle, crosswrap);
    planned->strands = bundle.strands;
    planned->bottom = bundle.bottom_edge;
    planned->width = bundle.top_edge - bundle.bottom_edge;
    double most = 0;
    for (uint32_t i = 0; i < bundle.count; i++)
        if (!bundle.strands[i].spacer)
            most = fmax(most, bundle.strands[i].thread->diameter);
    planned->thickness = leg_count(planned) * most;
}
