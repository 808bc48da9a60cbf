/* What a list of statements lays: turns, layers or places. */
#ifndef TURNLAY_MEANING_CONTENT_H
#define TURNLAY_MEANING_CONTENT_H

#include "syntax/tree.h"

/* A crosswrap is what is wound in a layer, or beside layers one of its own. */
#define CONTENT_TABLE(X) X(TURNS) X(CROSSWRAP) X(LAYERS) X(PLACES)

#define X(name) CONTENT_##name,
enum { CONTENT_TABLE(X) };
#undef X
/* One bit each: sets of them. */
#define X(name) HOLDS_##name = 1u << CONTENT_##name,
enum { CONTENT_TABLE(X) };
#undef X

/* All that the statements lay, those in loops, cases and patterns called too; the patterns are resolved. */
unsigned content_of(const Node *statements);
unsigned content_of_statement(const Node *statement);
/* The first statement that lays any of these, within loops and cases; NULL if none does. */
const Node *content_first(const Node *statements, unsigned content);

#endif
