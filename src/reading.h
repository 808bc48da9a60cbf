/* Which files a compilation has read and still wants, and what they are as text. */
#ifndef TURNLAY_READING_H
#define TURNLAY_READING_H

#include "check/kept_fades.h"
#include "compilation.h"
#include "meaning/meaning.h"

/* A `use` of some module whose file is to be had. */
typedef struct Wanted {
    Module *module;
    uint32_t use; /* index into the module's uses */
} Wanted;

/* Chains by the hash of the path. */
enum { HELD_CHAINS = 64 };

typedef struct Reading {
    Modules modules;
    Module *held[HELD_CHAINS]; /* those whose text stands in braces */
    LIST_OF(Wanted) wanted;
    uint32_t next;    /* the one wanted now */
    uint32_t missing; /* files that could not be had */
} Reading;

/* What is wanted now, or NULL. */
Wanted *next_wanted(Compilation *compilation);

/* Hash of the module's canonical form: what it uses, and then its declarations, each the hash of its words without
 * comments, blanks and line ends; for a used file the hash of its own form stands, so that it is the same whether
 * the file's text is held in braces or elsewhere. */
uint64_t canonical_hash(const Compilation *compilation, Module *module);
/* The file and all it uses as one text, with these turns in place of `by: eye` (NULL: as it is written); more than
 * LIMIT_FILE_BYTES, and not whole, where that is too large. */
void canonical_gather(const Compilation *compilation, const KeptFades *kept, Buffer *out);

#endif
