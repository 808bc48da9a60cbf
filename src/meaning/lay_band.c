/* Bands with their inlays. */
#include "meaning/lay_value.h"

#include "meaning/mend.h"

static void add_inlay(Laying *laying, InlayList *inlays, const Node *node)
{
    Evaluator *evaluator = laying->evaluator;
    const Node *every = option_value(node->options, INLAY_EVERY), *at = option_value(node->options, INLAY_AT);
    const Node *where = every ? every : at;
    Inlay inlay = {.every = every, .span = header_span(node)};
    if (!where) {
        lay_spoil(laying, node->cause, node->span);
        return;
    }
    Value position;
    if (!evaluate_extent(laying, node->first, &inlay.extent)
        || !(inlay.strands = evaluate_strands(laying, node->second)) || !lay_value(laying, where, &position))
        return;
    inlay.at_span = where->span;
    inlay.at = position.number;
    inlay.at_kind = position.type == TYPE_TURNS ? AT_TURNS : position.type == TYPE_LENGTH ? AT_LENGTH : AT_RATIO;
    if (every && !check_amount(laying, position, where, position.type == TYPE_TURNS ? 1 : LEAST_LENGTH))
        return;
    if (inlay.at_kind == AT_RATIO && (position.number < 0 || position.number > 1)) {
        Finding *finding = lay_fault(laying, FINDING_OUT_OF_RANGE, where->span,
                                     "an inlay lies between the start and the end of its band");
        finding_mend(evaluator->findings, finding,
                     "write where its middle lies: 0 is the start of the band, 1 its end, 1/2 its middle");
        finding_edit(evaluator->findings, finding, where->span, "1/2");
        return;
    }
    if (!lay_fits(laying, 1, inlay.span))
        return;
    evaluator->items++;
    *LIST_ADD(evaluator->arena, inlays) = inlay;
}

static void gather_inlays(Laying *laying, InlayList *inlays, const Node *statements);

static void gather_for(Laying *laying, InlayList *inlays, const Node *node)
{
    Course course;
    if (!course_of(laying, node, &course))
        return;
    for (double step = 0; step < course.count && lay_step(laying, node); step++) {
        laying->evaluator->frame[node->options->slot] = course_value(&course, step);
        gather_inlays(laying, inlays, node->body);
    }
}

static void gather_inlays(Laying *laying, InlayList *inlays, const Node *statements)
{
    for (const Node *node = statements; node && lay_step(laying, node); node = node->next) {
        const Node *branch;
        switch (node->kind) {
        case NODE_INLAY: add_inlay(laying, inlays, node); break;
        case NODE_FOR: gather_for(laying, inlays, node); break;
        case NODE_IF:
            if ((branch = chosen_branch(laying, node)))
                gather_inlays(laying, inlays, branch->body);
            break;
        case NODE_LET: lay_let(laying, node); break;
        case NODE_REQUIRE: lay_require(laying, node); break;
        default: lay_spoil(laying, node->cause, node->span); break;
        }
    }
}

/* Common practice, no source; wide, so that only slips are found. */
static const Range fill_weight = {0.001, 1e6, 1};
static const Range measured_width = {0.001, 1e7, 0};

void lay_band(Laying *laying, const Node *node)
{
    Item item = {.kind = ITEM_BAND, .span = header_span(node), .strands_span = node->second->span};
    if (node->first->kind == NODE_FILL) {
        double share = lay_number(laying, node, BAND_WEIGHT, fill_weight);
        if (!make_fill(laying, node->first, share, &item.extent))
            return;
    } else if (!evaluate_extent(laying, node->first, &item.extent))
        return;
    if (option_node(node->options, BAND_MEASURED)) {
        item.measured = lay_number(laying, node, BAND_MEASURED, measured_width);
        item.measured_span = option_value_span(node, BAND_MEASURED);
    }
    item.strands = evaluate_strands(laying, node->second);
    Evaluator *evaluator = laying->evaluator;
    InlayList *inlays = &evaluator->spare_inlays;
    inlays->count = 0;
    gather_inlays(laying, inlays, node->body);
    item.inlays = arena_copy(evaluator->arena, inlays->items, inlays->count * sizeof *inlays->items);
    item.inlay_count = inlays->count;
    if (item.strands)
        lay_item(laying, item);
}
