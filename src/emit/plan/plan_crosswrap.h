/* What a plan's pages say of a layer that is a crosswrap. */
#ifndef TURNLAY_EMIT_PLAN_PLAN_CROSSWRAP_H
#define TURNLAY_EMIT_PLAN_PLAN_CROSSWRAP_H

#include "emit/json_page.h"
#include "emit/text_page.h"

/* The member "crosswrap". */
void page_crosswrap(JsonPage *page, LineMap *lines, const PlannedPlace *place, const PlannedCrosswrap *planned);
/* How it is set out and closes, then its strands, in the order of work. */
void text_crosswrap(TextPage *page, const PlannedPlace *place, const PlannedCrosswrap *planned);

#endif
