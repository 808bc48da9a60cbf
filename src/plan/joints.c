/* Places that lie across a joint of the rod's sections. */
#include "plan/layout.h"

#include <math.h>

double joint_between(const Rod *rod, double low, double high)
{
    for (uint32_t i = 1; i < rod->section_count; i++)
        if (low < rod->sections[i].start - LAYOUT_SLACK && high > rod->sections[i].start + LAYOUT_SLACK)
            return rod->sections[i].start;
    return NAN;
}

/* At the bench lies one section, and the joint comes apart. The nearer side comes first. */
static void mend_across(Layout *layout, Finding *finding, const Place *place, double to_butt, double to_tip)
{
    bool butt_first = -to_butt <= to_tip;
    finding_mend(layout->findings, finding,
                 "move it toward the %s by %s, or make two of it: each section is wrapped by itself",
                 butt_first ? "butt" : "tip",
                 show_length(layout->findings->words, layout->job->bench.units, fmin(-to_butt, to_tip)));
    mend_by_moving(layout, finding, place, butt_first ? to_butt : to_tip);
    if (!finding->has_edit)
        mend_by_moving(layout, finding, place, butt_first ? to_tip : to_butt);
}

void check_joints(Layout *layout, const Place *place, double low, double high)
{
    const Rod *rod = layout->rod->rod;
    double joint = joint_between(rod, low, high);
    if (isnan(joint))
        return;
    const Section *section = &rod->sections[section_at(rod, joint)];
    UnitSystem units = layout->job->bench.units;
    Finding *finding =
        finding_add(layout->findings, FINDING_ACROSS_A_JOINT, place->mark_span,
                    "this place lies across the joint of %s and %s", section[-1].name, section->name);
    finding_label(layout->findings, finding, "from %s to %s from the butt",
                  show_quantity(layout->findings->words, units, QUANTITY_PLACE, low),
                  show_quantity(layout->findings->words, units, QUANTITY_PLACE, high));
    finding_relate(layout->findings, finding, section->span, "%s shows from %s on", section->name,
                   show_quantity(layout->findings->words, units, QUANTITY_PLACE, joint));
    mend_across(layout, finding, place, joint - high, joint - low);
}
