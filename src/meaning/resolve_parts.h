/* What the files share that settle names and kinds: resolve.c, resolve_options.c, resolve_statements.c,
 * resolve_crosswrap.c. */
#ifndef TURNLAY_MEANING_RESOLVE_PARTS_H
#define TURNLAY_MEANING_RESOLVE_PARTS_H

#include "meaning/resolver.h"

/* Options that exclude each other: the second is reported and forgotten. */
void exclude(Resolver *resolver, const Node *node, uint32_t one, uint32_t other);
/* Something that must be said: the node is broken without it; `edit` goes behind the node, NULL for none. */
Finding *missing(Resolver *resolver, Node *node, const char *what, const char *mend, const char *edit);
/* A statement in the wrong place: it is not laid. */
Finding *not_here(Resolver *resolver, Node *node, const char *why, const char *mend);
/* The statements of a body, with locals of their own. */
void check_body(Resolver *resolver, Node *body, Within within);
/* A single name in the place of a thread is what mends nearby can speak of. */
void note_thread(Resolver *resolver, const Node *node);

/* resolve_crosswrap.c */
void check_crosswrap(Resolver *resolver, Node *node, Within within);
void check_strand(Resolver *resolver, Node *node, Within within);

#endif
