#include "meaning/rod_sections.h"

#include "base/limits.h"
#include "meaning/blank.h"
#include "meaning/mend.h"
#include "meaning/sections.h"

#include <math.h>

/* Sections and joints of one rod while they are looked at. */
typedef struct Joining {
    Evaluator *evaluator;
    const Node *node; /* the rod */
    Rod *rod;
    Section *sections;
    uint32_t count;
    double *overlaps;
    bool tip_inside;
} Joining;

static const char *words_of(const Joining *joining, Span span)
{
    return written(joining->evaluator->findings->words, joining->evaluator->sources, span);
}

static const char *length_words(const Joining *joining, double mm)
{
    return source_value(joining->evaluator, TYPE_LENGTH, mm);
}

/* NULL, with its cause on the rod, where the name's blank has findings. */
static const Blank *blank_named(Evaluator *evaluator, const Node *name, Rod *rod)
{
    Declaration *declaration = name->kind == NODE_NAME ? (Declaration *)name->target : NULL;
    Value value = declaration ? declared_value(evaluator, declaration) : (Value){.cause = name->cause};
    const Blank *blank = value.type == TYPE_BLANK ? value.blank : NULL;
    if (!blank)
        rod->cause = cause_mark(evaluator->findings, value.cause, rod->span);
    return blank;
}

/* "mid", and where that blank stands again "mid (2)". */
static const char *name_section(const Joining *joining, uint32_t index)
{
    const Blank *blank = joining->sections[index].blank;
    uint32_t same = 1;
    for (uint32_t i = 0; i < index; i++)
        same += joining->sections[i].blank == blank;
    return same == 1 ? blank->name->bytes
                     : text_format(joining->evaluator->arena, "%s (%u)", blank->name->bytes, (unsigned)same);
}

/* --- the blanks --- */

/* The diameter at 0 by the taper of the first two stations, to a tenth of a millimetre. */
static double guessed_at_butt(const Blank *blank)
{
    const Station *first = &blank->stations[0], *second = &blank->stations[1];
    double slope = (second->diameter - first->diameter) / (second->at - first->at);
    return fmin(fmax(round((first->diameter - first->at * slope) * 10) / 10, 0.1), 1000);
}

static void mend_first_station(const Joining *joining, Finding *finding, const Node *station, const Blank *blank,
                               const char *diameter)
{
    Findings *findings = joining->evaluator->findings;
    Span before = {station->span.start, station->span.start, station->span.file};
    finding_relate(findings, finding, station->span, "its first station");
    if (blank->stations[0].at > 0)
        finding_edit(findings, finding, before, "at 0 mm: %s  ", diameter);
    else if (blank->stations[1].at > 0)
        finding_edit(findings, finding, station->first->span, "0 mm");
}

static bool begins_at_butt(const Blank *blank)
{
    const double SAME = 1e-6;
    return fabs(blank->stations[0].at) <= SAME;
}

/* A joint needs the section's diameter at its own butt end. */
static bool is_measured_at_butt(const Joining *joining, const Section *section, const Node *name)
{
    if (begins_at_butt(section->blank))
        return true;
    double first = section->blank->stations[0].at;
    Findings *findings = joining->evaluator->findings;
    Finding *finding =
        finding_add(findings, FINDING_BLANK_STATIONS, section->span,
                    first > 0 ? "%s is not measured at its butt end, where the joint is"
                              : "%s has stations before 0, and a section is measured from its own butt end",
                    section->name);
    const char *diameter = length_words(joining, guessed_at_butt(section->blank));
    if (first > 0)
        finding_mend(findings, finding, "measure it there and write that first, such as `at 0 mm: %s`", diameter);
    else
        finding_mend(findings, finding, "count its stations from its own butt end, the first at 0 mm");
    const Node *declared = ((Declaration *)name->target)->node, *station = declared->body;
    if (same_span(declared->first->span, section->blank->span)) /* not where another blank stands for it */
        mend_first_station(joining, finding, station, section->blank, diameter);
    joining->rod->cause = cause_mark(findings, finding->number, joining->rod->span);
    return false;
}

static bool take_blanks(Joining *joining)
{
    bool sound = true;
    for (const Node *name = joining->node->second->first; name; name = name->next) {
        const Blank *blank = blank_named(joining->evaluator, name, joining->rod);
        sound &= blank != NULL;
        if (!sound)
            continue;
        Section *section = &joining->sections[joining->count];
        *section = (Section){.blank = blank, .span = name->span};
        section->name = name_section(joining, joining->count++);
        sound &= section == joining->sections || is_measured_at_butt(joining, section, name);
    }
    return sound;
}

/* --- the joints --- */

/* Wide, so that only slips are found: no more than half of the shorter of its sections. Common practice, no
 * source. */
static double most_overlap(const Joining *joining, uint32_t joint)
{
    return fmin(own_length(joining->sections[joint].blank), own_length(joining->sections[joint + 1].blank)) / 2;
}

/* node: the value as it is written. */
static double overlap_in_range(const Joining *joining, uint32_t joint, double overlap, const Node *node)
{
    Range range = {0, most_overlap(joining, joint), 0};
    bool low = overlap < range.least;
    double bound = low ? range.least : range.most;
    if (overlap >= range.least && overlap <= range.most)
        return overlap;
    Findings *findings = joining->evaluator->findings;
    const Section *one = &joining->sections[joint], *other = one + 1;
    bool first = own_length(one->blank) <= own_length(other->blank);
    LimitWords words = limit_words(joining->evaluator, TYPE_LENGTH, bound, overlap);
    Finding *finding = low ? finding_add(findings, FINDING_OUT_OF_RANGE, node->span,
                                         "an overlap is at least %s, and this is %s", words.limit, words.number)
                           : finding_add(findings, FINDING_OUT_OF_RANGE, node->span,
                                         "this overlap is at most %s, half of %s, and this is %s", words.limit,
                                         first ? one->name : other->name, words.number);
    bool turned = node->kind == NODE_SIGN && -overlap <= range.most; /* the other way round */
    const char *meant = !finding_is_kept(finding) ? NULL
                        : turned                  ? words_of(joining, node->first->span)
                                 : number_meant(joining->evaluator, joining->node, ROD_OVERLAP, node, range);
    const char *mend = meant ? meant : words.limit;
    finding_mend(findings, finding, "measure how far the two lie over one another, and write that, such as `%s`",
                 mend);
    finding_edit(findings, finding, node->span, "%s", mend);
    joining->rod->cause = cause_mark(findings, finding->number, joining->rod->span);
    return bound;
}

/* As a mend: the overlaps that are there, as many as there are joints, the last one again where they are too few.
 */
static const char *overlaps_for_joints(const Joining *joining, const Node *list)
{
    Findings *findings = joining->evaluator->findings;
    const char *words = "";
    const Node *item = list->first;
    for (uint32_t i = 0; i + 1 < joining->count; i++) {
        words = finding_text(findings, "%s%s%s", words, i ? ", " : "", words_of(joining, item->span));
        item = item->next ? item->next : item;
    }
    return words;
}

static void report_count(const Joining *joining, const Node *node, uint32_t overlaps)
{
    Findings *findings = joining->evaluator->findings;
    uint32_t joints = joining->count - 1;
    Finding *finding = finding_add(
        findings, FINDING_OUT_OF_RANGE, node->span, "this rod has %u %s, and here %s %u", (unsigned)joints,
        joints == 1 ? "joint" : "joints", overlaps == 1 ? "is" : "are", (unsigned)overlaps);
    finding_label(findings, finding, "one overlap for each joint, from the butt");
    finding_mend(findings, finding, "write one length for all joints, or a list with one for each");
    if (node->kind == NODE_LIST && overlaps)
        finding_edit(findings, finding, node->span, "[%s]", overlaps_for_joints(joining, node));
    joining->rod->cause = cause_mark(findings, finding->number, joining->rod->span);
}

/* The value of one joint, as it is written; all of it where the list is not written here. */
static const Node *node_of_overlap(const Node *node, uint32_t joint)
{
    const Node *item = node->kind == NODE_LIST ? node->first : NULL;
    while (item && joint--)
        item = item->next;
    return item ? item : node;
}

static bool take_overlaps(Joining *joining)
{
    const Node *node = option_value(joining->node->options, ROD_OVERLAP);
    uint32_t joints = joining->count - 1;
    joining->overlaps = arena_take_many(joining->evaluator->arena, joints, sizeof *joining->overlaps);
    if (!node)
        return true;
    uint64_t told = joining->evaluator->findings->told;
    Value value = evaluate(joining->evaluator, node);
    if (value.type == TYPE_BROKEN)
        return true;
    bool list = type_is_list(value.type);
    if (list && value.list->count != joints) {
        report_count(joining, node, value.list->count);
        return false;
    }
    for (uint32_t i = 0; i < joints; i++)
        joining->overlaps[i] = overlap_in_range(joining, i, list ? value.list->items[i].number : value.number,
                                                node_of_overlap(node, i));
    return told == joining->evaluator->findings->told;
}

/* --- whether they fit --- */

/* The outer one has to be the thicker where the joint begins and where it ends. */
static bool fits(const Blank *low, const Blank *high, double overlap, bool tip_inside)
{
    double end = low->stations[low->station_count - 1].at;
    for (int at_tip = 0; at_tip < 2; at_tip++) {
        double of_low = blank_diameter(low, at_tip ? end : end - overlap);
        double of_high = blank_diameter(high, at_tip ? overlap : 0);
        if (overlap > 0 && (tip_inside ? of_low <= of_high : of_high <= of_low))
            return false;
    }
    return true;
}

/* A rod gets thinner toward its tip. */
static bool is_thicker(const Blank *low, const Blank *high)
{
    return high->stations[0].diameter > low->stations[0].diameter;
}

/* Whether all sections are named in the wrong order. */
static bool would_fit_turned_round(const Joining *joining)
{
    if (!begins_at_butt(joining->sections[0].blank))
        return false; /* it would be behind a joint then */
    const Node *overlap = option_value(joining->node->options, ROD_OVERLAP);
    bool would = !overlap || overlap->kind != NODE_LIST || joining->count == 2;
    for (uint32_t i = 0; i + 1 < joining->count; i++) {
        const Blank *low = joining->sections[i].blank, *high = joining->sections[i + 1].blank;
        would &= is_thicker(low, high) && fits(high, low, joining->overlaps[i], joining->tip_inside);
    }
    return would;
}

static const char *turned_round(const Joining *joining)
{
    const char *words = "";
    for (uint32_t i = joining->count; i-- > 0;)
        words = finding_text(joining->evaluator->findings, "%s%s%s", words, *words ? ", " : "",
                             words_of(joining, joining->sections[i].span));
    return words;
}

static void mend_inside(const Joining *joining, Finding *finding)
{
    Findings *findings = joining->evaluator->findings;
    const char *end = joining->tip_inside ? "butt" : "tip";
    const Node *inside = option_value(joining->node->options, ROD_INSIDE);
    finding_mend(findings, finding, "say which of the two lies inside: `inside: %s`", end);
    if (inside)
        finding_edit(findings, finding, inside->span, "%s", end);
    else
        finding_edit(findings, finding, behind(option_node(joining->node->options, ROD_OVERLAP)->span),
                     " inside: %s", end);
}

static void mend_fit(const Joining *joining, Finding *finding, bool thicker)
{
    Findings *findings = joining->evaluator->findings;
    bool turned = true;
    for (uint32_t i = 0; i + 1 < joining->count; i++)
        turned &= fits(joining->sections[i].blank, joining->sections[i + 1].blank, joining->overlaps[i],
                       !joining->tip_inside);
    Span first = joining->sections[0].span, last = joining->sections[joining->count - 1].span;
    if (would_fit_turned_round(joining)) {
        finding_mend(findings, finding, "name the sections from the butt on");
        finding_edit(findings, finding, span_join(first, last), "%s", turned_round(joining));
    } else if (turned && !thicker && option_node(joining->node->options, ROD_OVERLAP)) {
        mend_inside(joining, finding);
    } else {
        finding_mend(findings, finding, "name the sections from the butt on, and measure both where they meet");
    }
}

/* "tip_piece cannot go over butt_piece"; whether it can. */
static bool check_fit(const Joining *joining, uint32_t joint)
{
    const Section *low = &joining->sections[joint], *high = low + 1;
    double overlap = joining->overlaps[joint], end = low->blank->stations[low->blank->station_count - 1].at;
    bool thicker = is_thicker(low->blank, high->blank);
    if (!thicker && fits(low->blank, high->blank, overlap, joining->tip_inside))
        return true;
    Findings *findings = joining->evaluator->findings;
    Finding *finding = thicker
                           ? finding_add(findings, FINDING_SECTIONS_DO_NOT_FIT, high->span,
                                         "%s begins thicker than %s, which is before it", high->name, low->name)
                           : finding_add(findings, FINDING_SECTIONS_DO_NOT_FIT, high->span, "%s cannot go %s %s",
                                         high->name, joining->tip_inside ? "into" : "over", low->name);
    double of_high = thicker ? high->blank->stations[0].diameter : blank_diameter(high->blank, 0);
    double of_low = thicker ? low->blank->stations[0].diameter : blank_diameter(low->blank, end - overlap);
    finding_label(findings, finding, "%s thick at its butt end", length_words(joining, of_high));
    finding_relate(findings, finding, low->span, "%s thick %s", length_words(joining, of_low),
                   thicker ? "at its butt end" : "where the joint begins");
    mend_fit(joining, finding, thicker);
    return false;
}

/* --- all --- */

static bool too_many(Evaluator *evaluator, const Node *node, Rod *rod, uint32_t count)
{
    if (count <= LIMIT_SECTIONS)
        return false;
    Finding *finding =
        finding_add(evaluator->findings, FINDING_TOO_MUCH_WORK, node->second->span,
                    "this rod has %u sections; at most %d are allowed", (unsigned)count, LIMIT_SECTIONS);
    finding_mend(evaluator->findings, finding, "make two rods of it");
    rod->cause = cause_mark(evaluator->findings, finding->number, rod->span);
    return true;
}

static void take_one(Evaluator *evaluator, const Node *name, Rod *rod)
{
    rod->blank = blank_named(evaluator, name, rod);
    if (!rod->blank)
        return;
    Section *section = arena_take(evaluator->arena, sizeof *section);
    double tip = rod->blank->stations[rod->blank->station_count - 1].at;
    *section = (Section){.blank = rod->blank,
                         .name = rod->blank->name->bytes,
                         .span = name->span,
                         .start = rod->blank->stations[0].at,
                         .end = tip,
                         .tip = tip};
    rod->sections = section;
    rod->section_count = 1;
}

void take_sections(Evaluator *evaluator, const Node *node, Rod *rod)
{
    const Node *blanks = node->second;
    uint32_t count = 0;
    for (const Node *name = blanks->kind == NODE_LIST ? blanks->first : NULL; name; name = name->next)
        count++;
    if (count < 2) {
        take_one(evaluator, count ? blanks->first : blanks, rod);
        return;
    }
    Joining joining = {.evaluator = evaluator, .node = node, .rod = rod};
    joining.tip_inside = option_choice(node, ROD_INSIDE, 0) == 1;
    if (too_many(evaluator, node, rod, count))
        return;
    joining.sections = arena_take_many(evaluator->arena, count, sizeof *joining.sections);
    if (!take_blanks(&joining) || !take_overlaps(&joining))
        return;
    rod->blank = join_sections(evaluator->arena, joining.sections, count, joining.overlaps, joining.tip_inside);
    rod->sections = joining.sections;
    rod->section_count = count;
    for (uint32_t i = 0; i + 1 < count && check_fit(&joining, i); i++)
        ;
}
