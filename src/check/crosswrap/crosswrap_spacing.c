/* T601, T602, T606 in words: crossings that do not divide the field, and angles. */
#include "check/crosswrap/crosswrap.h"

#include "trade/trade.h"

#include <math.h>

static const char *show_angle(const Check *check, double angle)
{
    return text_format(check->findings->words, "%s deg", show_number(check->findings->words, degrees(angle), 1));
}

static const char *crossings_text(const Check *check, double count)
{
    return text_format(check->findings->words, count == 1 ? "%s crossing" : "%s crossings",
                       show_number(check->findings->words, count, 0));
}

/* The count on the other side of what was asked for; 0 if there is none. */
static double other_count(const PlannedCrosswrap *planned, bool more)
{
    return more ? planned->crossings + 1.0 : planned->crossings - 1.0;
}

Finding *say_not_divided(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    UnitSystem units = check->bench->units;
    double field = crosswrap_field(planned),
           other = other_count(planned, planned->crossings * planned->asked < field);
    Finding *finding = finding_add(check->findings, FINDING_CROSSINGS_DO_NOT_DIVIDE, span,
                                   "a spacing of %s does not divide this field",
                                   show_length(check->findings->words, units, planned->asked));
    if (!finding->message)
        return finding;
    finding_label(check->findings, finding,
                  planned->crossings == 1 ? "%s takes %s; the field is %s long"
                                          : "%s take %s; the field is %s long",
                  crossings_text(check, planned->crossings),
                  show_length(check->findings->words, units, planned->crossings * planned->asked),
                  show_length(check->findings->words, units, field));
    finding_relate(check->findings, finding, planned->crosswrap->ends_span,
                   "the end bands, %s each, are not part of the field",
                   show_length(check->findings->words, units, planned->end_width));
    const char *nearest =
        text_format(check->findings->words, "with %s it is %s", crossings_text(check, planned->crossings),
                    show_length(check->findings->words, units, planned->spacing));
    const char *next = other < 1 ? ""
                                 : text_format(check->findings->words, ", with %s it is %s",
                                               show_number(check->findings->words, other, 0),
                                               show_length(check->findings->words, units, field / other));
    Change change = spaced_change(check, planned, planned->crossings);
    if (change_mends(check, view, RULE_DIVIDES, change)) {
        finding_mend(check->findings, finding, "%s%s: write `%s`", nearest, next,
                     change_words(check, planned, change));
        edit_change(check, finding, planned, change);
    } else {
        finding_mend(check->findings, finding, "%s%s: give the number of crossings instead", nearest, next);
    }
    return finding;
}

/* The middle's angle with another count of crossings. */
static double angle_with(const PlannedCrosswrap *planned, double count)
{
    PlannedCrosswrap other = *planned;
    for (unsigned leg = 0; leg < leg_count(planned); leg++)
        other.lead[leg] *= planned->crossings / count;
    return middle_angle(&other);
}

Finding *say_angle_not_obtained(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    double asked = radians(planned->asked), obtained = middle_angle(planned);
    double other = other_count(planned, obtained > asked);
    Finding *finding = finding_add(check->findings, FINDING_ANGLE_NOT_OBTAINED, span,
                                   "no number of crossings gives an angle of %s here", show_angle(check, asked));
    if (!finding->message)
        return finding;
    finding_label(check->findings, finding, "%s in the middle of the field with %s%s", show_angle(check, obtained),
                  crossings_text(check, planned->crossings),
                  other < 1 ? ""
                            : text_format(check->findings->words, ", %s with %s",
                                          show_angle(check, angle_with(planned, other)),
                                          show_number(check->findings->words, other, 0)));
    bool is_nearer = other >= 1 && fabs(angle_with(planned, other) - asked) < fabs(obtained - asked);
    double nearest = is_nearer ? other : planned->crossings;
    Change change = spaced_change(check, planned, nearest);
    if (change_mends(check, view, RULE_ANGLE_OBTAINED, change)) {
        finding_mend(check->findings, finding,
                     "write `%s` for the nearest angle, or make the layer longer or shorter",
                     change_words(check, planned, change));
        edit_change(check, finding, planned, change);
    } else {
        finding_mend(check->findings, finding, "give the number of crossings instead");
    }
    return finding;
}

/* The leg and end that are furthest out of range. */
typedef struct WorstAngle {
    double angle;
    unsigned end;
    bool steep;
} WorstAngle;

static WorstAngle worst_angle(const Bench *bench, const PlannedCrosswrap *planned)
{
    WorstAngle worst = {0};
    double most = 0;
    for (unsigned end = 0; end < 2; end++)
        for (unsigned leg = 0; leg < leg_count(planned); leg++) {
            double angle = planned->ends[end].angle[leg];
            double out = fmax(angle - bench->steepest, bench->flattest - angle);
            if (out <= most)
                continue;
            most = out;
            worst = (WorstAngle){angle, end, angle > bench->steepest};
        }
    return worst;
}

/* The count with which the angle would just be in range at that end. */
static double count_in_range(const Bench *bench, const PlannedCrosswrap *planned, WorstAngle worst)
{
    double round_way = TRADE_PI * (planned->ends[worst.end].diameter + planned->thread_diameter);
    return worst.steep ? count_for_large_lead(planned, tan(bench->steepest) * round_way)
                       : count_for_small_lead(planned, tan(bench->flattest) * round_way);
}

/* Degrees that bench { } takes at the least and at the most: meaning/bench_table.h; common practice, no source. */
enum { LEAST_ANGLE = 1, MOST_ANGLE = 89 };

static void allow_angle(const Check *check, Finding *finding, WorstAngle worst)
{
    double angle = degrees(worst.angle);
    double limit = worst.steep ? ceil(angle - 1e-6) : floor(angle + 1e-6);
    const char *option = worst.steep ? "steepest" : "flattest";
    if (limit < LEAST_ANGLE || limit > MOST_ANGLE) {
        finding_mend(check->findings, finding,
                     worst.steep ? "make the layer shorter, or use more crossings or turns"
                                 : "make the layer longer, or use fewer crossings or turns");
        return;
    }
    const char *value =
        text_format(check->findings->words, "%s deg", show_number(check->findings->words, limit, 0));
    finding_mend(check->findings, finding, "if your thread holds at that angle, write `%s: %s` in bench { }",
                 option, value);
    edit_bench(check, finding, worst.steep ? BENCH_STEEPEST : BENCH_FLATTEST, value);
}

Finding *say_angle(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    const Bench *bench = check->bench;
    WorstAngle worst = worst_angle(bench, planned);
    Finding *finding = finding_add(check->findings, FINDING_CROSSWRAP_ANGLE, span,
                                   "the strands of this crosswrap lie too %s", worst.steep ? "steep" : "flat");
    if (!finding->message)
        return finding;
    finding_label(check->findings, finding, "%s at the %s end; %s to %s is allowed",
                  show_angle(check, worst.angle), worst.end ? "tip" : "butt", show_angle(check, bench->flattest),
                  show_angle(check, bench->steepest));
    Change change;
    double from = count_in_range(bench, planned, worst);
    if (find_spaced(check, view, RULE_ANGLE_RANGE, from, worst.steep ? 1 : -1, &change)) {
        finding_mend(check->findings, finding, "write `%s`, or allow the angle with `%s:` in bench { }",
                     change_words(check, planned, change), worst.steep ? "steepest" : "flattest");
        edit_change(check, finding, planned, change);
    } else {
        allow_angle(check, finding, worst);
    }
    return finding;
}
