/* Pages: plan, needs, drawing and findings as text, JSON, CSV and SVG. Nothing here decides or computes a number
 * of the trade. Everything is written into a buffer; cli puts it where it belongs. */
#ifndef TURNLAY_EMIT_EMIT_H
#define TURNLAY_EMIT_EMIT_H

#include "bench/bench.h"
#include "draw/drawing.h"
#include "plan/shades.h"
#include "words/sheet.h"

void emit_plan_text(Buffer *out, const Plan *plan);
void emit_plan_json(Buffer *out, const BenchPlan *bench, const Findings *findings);
void emit_plan_csv(Buffer *out, const Plan *plan);
void emit_need_text(Buffer *out, const BenchPlan *bench);
void emit_need_json(Buffer *out, const BenchPlan *bench);
void emit_need_csv(Buffer *out, const Plan *plan);
/* Threads chosen by their colours; the plan's job is theirs. */
void emit_shades_text(Buffer *out, const Plan *plan, const Shades *shades);
void emit_shades_json(Buffer *out, const Plan *plan, const Shades *shades);
void emit_svg(Buffer *out, const Drawing *drawing);
/* The same as an element within an HTML page, without places in the source: every id begins with `prefix`, which
 * must be fit for an id and another for each picture of the page (emit_svg has an empty one). */
void emit_svg_element(Buffer *out, const Drawing *drawing, const char *prefix);
/* Findings for people: as shown in DEVELOPERS.md, with colour (terminal escapes) or without. */
void emit_findings_text(Buffer *out, const Findings *findings, const Sources *sources, FindingsShown shown,
                        bool colour);
/* The counts are those of all. */
void emit_findings_json(Buffer *out, const Findings *findings, const Sources *sources, FindingsShown shown);

/* From the step of that number on, with what lies on the blank by then; 0 or 1 for all. */
void emit_sheet_text(Buffer *out, const Sheet *sheet, uint32_t from_step, SheetDepth depth);
/* Its cards alone. */
void emit_cards_text(Buffer *out, const Sheet *sheet);
/* Every action with its numbers and with what is held after it, and every word of the sheet. */
void emit_sheet_json(Buffer *out, const Sheet *sheet);
/* Whole; it opens at the step of that number, 0 or 1: at its beginning. */
void emit_sheet_html(Buffer *out, const Sheet *sheet, const Plan *plan, uint32_t from_step);
/* Through cairo and pango; false where there is no font. Steps from that number on, all else whole. Linked into
 * turnlay-pdf alone. */
bool emit_sheet_pdf(Buffer *out, const Sheet *sheet, const Plan *plan, uint32_t from_step, bool letter);
/* Where no width is asked for, pixels a mm of the drawing, about 200 an inch: every letter can be read. */
#define PNG_PIXELS_A_MM 8
/* A PNG so many pixels wide (0: as many as letters need), as high for its width as the drawing; colours and shapes
 * are those of the SVG. */
bool emit_drawing_png(Buffer *out, const Drawing *drawing, uint32_t width);

#endif
