/* What the files share that settle names and kinds: resolve.c, resolve_options.c, resolve_statements.c,
 * resolve_crosswrap.c. */
#ifndef TURNLAY_MEANING_RESOLVE_PARTS_H
#define TURNLAY_MEANING_RESOLVE_PARTS_H

#include "meaning/resolver.h"

/* Among inlays or strands, where nothing else is wound. */
static inline bool among_parts(Within within) { return within == IN_BAND || within == IN_CROSSWRAP; }
/* Options that exclude each other: the second is reported and forgotten. */
void exclude(Resolver *resolver, const Node *node, uint32_t one, uint32_t other);
/* The same of all options that a place and a series share: each says where something ends, or which way it goes.
 */
void exclude_of_place(Resolver *resolver, const Node *node);
/* An option that is written again: reported, and counts as not written. */
void drop_second(Resolver *resolver, const Node *first, Node *second);
/* Something that must be said: the node is broken without it; `edit` goes behind the node, NULL for none. */
Finding *missing(Resolver *resolver, Node *node, const char *what, const char *mend, const char *edit);
/* A statement in the wrong place: it is not laid. */
Finding *not_here(Resolver *resolver, Node *node, const char *why, const char *mend);
/* A statement in the wrong place, of which no more is to be said than that; `told`: another one in the same
 * braces, which this is silent beside. Gives why it is not laid. */
Cause misplace(Resolver *resolver, Node *node, Cause told);
/* The statements of a body, with locals of their own. */
void check_body(Resolver *resolver, Node *body, Within within);
/* A single name in the place of a thread is what mends nearby can speak of. */
void note_thread(Resolver *resolver, const Node *node);

/* resolve_places.c */
/* A pattern holds places, layers or turns; another kind beside them is a finding. Gives what it holds: bits of
 * content.h. */
unsigned check_content_of_pattern(Resolver *resolver, Node *pattern);
void resolve_place(Resolver *resolver, Node *node, Within within);
void resolve_layer(Resolver *resolver, Node *node, Within within);
/* What is noted of a place or series in its slot: whether each of these statements makes a layer of its own, and
 * whether they may differ between the two feet of a guide (evaluate.h). Turns beside layers are a finding. */
uint32_t slot_of_place(Resolver *resolver, Node *statements);
/* resolve_series.c */
void resolve_series(Resolver *resolver, Node *node, Within within);
/* A value (or with `last` two, from one to the other) that says where rows lie rests on nothing that is known of
 * them alone. `reads`: what it rests on. */
void settle_without_here(Resolver *resolver, Node *value, Node *last, unsigned reads);

/* resolve_part.c */
void resolve_part(Resolver *resolver, Node *node, Within within);
/* Ends of parts are measured from the butt: with `from: tip` neither the mark nor `until` can be made of them. */
void keep_ends_from_butt(Resolver *resolver, Node *mark, const Node *node, uint32_t from, uint32_t until);

/* resolve_use.c */
void resolve_use(Resolver *resolver, Node *use);

/* resolve_like.c */
void resolve_like(Resolver *resolver, Node *rod);

/* resolve_crosswrap.c */
void check_crosswrap(Resolver *resolver, Node *node, Within within);
void check_strand(Resolver *resolver, Node *node, Within within);

#endif
