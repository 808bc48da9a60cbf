/* What the page keeps of the job while it is wound: widths that are measured, lots, notes, where one stands. */
#ifndef TURNLAY_EMIT_SHEET_SHEET_HTML_JOB_H
#define TURNLAY_EMIT_SHEET_SHEET_HTML_JOB_H

#include "bench/night.h"
#include "plan/turns_so_far.h"
#include "words/sheet.h"

/* Attributes of the body: which file it is, in which units widths are measured, how far off they may be. */
void html_job(Buffer *out, const Sheet *sheet);
/* What the sheet was planned with, for the script. */
void html_happened(Buffer *out, const Sheet *sheet);
/* A part's attribute: which layer of which place of which rod it is about, the same on every sheet of the file. */
void html_part_key(Buffer *out, uint32_t rod, const SheetPart *part);
/* A step's: turns of its layer when it is done, where there are any. */
void html_step_key(Buffer *out, const SheetRod *rod, const SheetStep *step);
/* Of a step that asks for a width: what it is held against, and what lies there since the layer was measured
 * before; so_far and widths (empty) go from step to step of a layer. */
void html_measured(Buffer *out, const SheetRod *rod, const SheetStep *step, TurnsSoFar *so_far,
                   ThreadWidths *widths);
/* Where to stop for the night, seen from the step: not seen until it is asked for. nights: of the rod's steps.
 * aside: for words of one step, and empty again behind it. */
void html_night(Buffer *out, Arena *aside, const SheetRod *rod, const SheetStep *step, const StepNight *nights);
/* What changed since the sheet was planned first, layer by layer; nothing where nothing did. */
void html_changes(Buffer *out, const Sheet *sheet);
/* The field for a width, in the bar; the dialogs of all this. */
void html_width_field(Buffer *out, const Sheet *sheet);
void html_job_dialogs(Buffer *out);

#endif
