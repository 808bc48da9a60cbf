/* Inside the meaning room: what mends are made of. */
#ifndef TURNLAY_MEANING_MEND_H
#define TURNLAY_MEANING_MEND_H

#include "base/finding.h"
#include "base/source.h"
#include "syntax/syntax.h"

/* The source text of a span. */
const char *written(Arena *arena, const Sources *sources, Span span);
/* The empty span behind this one. */
Span behind(Span span);
/* The finding's edit: what stands in the span is taken out, with the comma or line that it alone needed. */
void edit_out(Findings *findings, Finding *finding, const Sources *sources, Span span);
/* The word with its large letters (of ASCII) in small. */
const char *in_small(Arena *arena, const char *word);
/* The one of the words (NULL at the end) that is nearest to `word`, if at most two slips and less than half of it
 * lie between, or else one that `word` begins with; NULL if there is none. Large letters count as small ones. */
const char *nearest_word(Arena *arena, const char *word, const char *const *words);

#endif
