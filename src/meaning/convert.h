/* Inside the meaning room: source text that makes a value of one kind into one of another, for mends. */
#ifndef TURNLAY_MEANING_CONVERT_H
#define TURNLAY_MEANING_CONVERT_H

#include "meaning/resolver.h"

/* Whether the name is a thread's here. */
bool is_thread(Resolver *resolver, const Text *name);
/* The value of kind `from` as source text that gives kind `to`; NULL where there is no plain way. A number gets
 * another unit. */
const char *as_kind(Resolver *resolver, const Node *node, unsigned from, unsigned to);
/* The same for two values that are to go together: turns become the width that they take, and a number gets the
 * other's unit. */
const char *agreeing(Resolver *resolver, const Node *node, unsigned from, const Node *other, unsigned to);
/* The one declaration of the kind in the module that mends can speak of; NULL if there is none or more than one.
 */
const char *only_one(const Module *module, NodeKind kind);
/* The kind of a value as far as it can be seen without looking into it; TYPE_BROKEN if it cannot. Tells nothing.
 */
unsigned type_at_sight(Resolver *resolver, const Node *node);
/* A number with another unit, or none. */
const char *number_as(Resolver *resolver, const Node *node, unsigned to);
/* A list of numbers as one of lengths. */
const char *list_of_lengths(Resolver *resolver, const Node *node, ValueSpot spot);
/* Another value for the node, of one of the kinds in the set, to begin with: a thread or guide of the file, or
 * what is usual at the spot. */
void mend_by_example(Resolver *resolver, Finding *finding, const Node *node, TypeSet set, ValueSpot spot);
/* One of a list's values. */
const char *list_as(Resolver *resolver, const Node *node, unsigned from, unsigned to);
/* A list of threads for a fade: this one and another of the file, if there is one. */
const char *list_of_two(Resolver *resolver, const char *one);
/* The finding's mend: this text in the node's place or, if it is NULL, the words `otherwise` alone. */
void edit_to(Resolver *resolver, Finding *finding, const Node *node, const char *text, const char *otherwise);

#endif
