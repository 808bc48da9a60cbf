/* The syntax room: text to tokens (grammar/scanner.re) to tree (grammar/parser.y). Knows no trade. Every fault
 * of the text is a finding; what can be read around it is in the tree. */
#ifndef TURNLAY_SYNTAX_SYNTAX_H
#define TURNLAY_SYNTAX_SYNTAX_H

#include "base/finding.h"
#include "base/source.h"
#include "syntax/tree.h"

/* Reads the source with this index. */
Tree *syntax_read(Arena *arena, Texts *texts, const Sources *sources, uint32_t file, Findings *findings);
/* The span to take out so that the thing in `span` is gone: with the comma that joined it to its neighbours, with
 * the blanks before it, with its whole line if nothing else stands there. */
Span span_to_remove(const Source *source, Span span);

#endif
