/* What is said above a row: parts of the rod, notes on it and joints, with a fine line down to each. */
#ifndef TURNLAY_DRAW_ROD_LABELS_H
#define TURNLAY_DRAW_ROD_LABELS_H

#include "draw/rod/rows.h"

typedef struct RowLabel {
    double at; /* along the axis */
    const char *words;
    double x, width; /* page x of its line; of its words, with what parts them from the line */
    bool leftward;   /* the words end at their line instead */
    uint32_t lane;   /* from above */
    uint32_t number; /* in the order of the source */
} RowLabel;

typedef struct RowLabels {
    LIST_OF(RowLabel) list; /* from butt to tip */
    uint32_t lanes;
    uint32_t left_out; /* for which there was no lane */
} RowLabels;

/* Words begin at their line, and those further on stand lower; where there is no room they end there, and those
 * further on stand higher: so no line runs through words. */
RowLabels labels_make(const RodPage *page, const Frame *frame, RodRow row);
double labels_height(const RodPage *page, const RowLabels *labels);
/* From page y down; the lines go down to the rod. */
void draw_labels(const RodPage *page, const Frame *frame, const RowLabels *labels, double y);

#endif
