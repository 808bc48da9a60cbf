/* Inside the emit room: notes and steps on paper. */
#ifndef TURNLAY_EMIT_PDF_STEPS_H
#define TURNLAY_EMIT_PDF_STEPS_H

#include "emit/pdf/pdf.h"
#include "words/sheet.h"

/* Parts of the rod and notes on it; nothing where there are none. */
void paper_notes(Paper *paper, const SheetRod *rod, const SheetSection *section);
/* units: of the widths to be written down. */
/* From the step of that number on. */
void paper_steps(Paper *paper, const SheetRod *rod, const SheetSection *section, const char *units, uint32_t from);
/* The cautions of a step, each a line; their height. */
double paper_cautions_height(Paper *paper, const SheetStep *step, double width);
double paper_cautions(Paper *paper, const SheetStep *step, double x, double y, double width);
/* A part whose steps an equal one tells, below its heading; what of it stays with that. */
void paper_rows(Paper *paper, const SheetRod *rod, const SheetPart *part, const char *units);
double paper_rows_begin(Paper *paper, const SheetPart *part);

#endif
