/* What is said of a statement that stands where it cannot: by the reader, and by meaning. */
#ifndef TURNLAY_SYNTAX_MISPLACED_H
#define TURNLAY_SYNTAX_MISPLACED_H

#include "base/finding.h"
#include "syntax/tree.h"

/* A finding on its first word, which is shown as `word` says; with the way out. */
Finding *report_misplaced_statement(Findings *findings, NodeKind kind, Span span, const char *word);

#endif
