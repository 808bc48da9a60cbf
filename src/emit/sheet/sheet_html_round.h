/* Inside the emit room: what the bench sheet's page turns round the rod's axis, one template a place. */
#ifndef TURNLAY_EMIT_SHEET_SHEET_HTML_ROUND_H
#define TURNLAY_EMIT_SHEET_SHEET_HTML_ROUND_H

#include "base/buffer.h"
#include "plan/plan.h"

/* Of a section of the page, and a place of its rod. */
#define ROUND_ID "r%ua%u"
/* In the figure of a section's picture. */
#define ROUND_BUTTON "<button type=\"button\" class=\"turn-it screen-only\" hidden>Turn it</button>\n"

/* Of a section of a rod, at a scale, as section `number` of the page. points: of all so far. */
void html_rounds(Buffer *out, const Plan *plan, uint32_t rod, uint32_t section, double scale, uint32_t number,
                 uint32_t *points);
void html_round_dialog(Buffer *out);

#endif
