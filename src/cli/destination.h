/* What the path of an output leads to: a file of its own, an open descriptor, a device; and whether two are one.
 */
#ifndef TURNLAY_CLI_DESTINATION_H
#define TURNLAY_CLI_DESTINATION_H

#include "base/arena.h"

#include <stdbool.h>
#include <sys/stat.h>

typedef enum {
    LEADS_NOWHERE,      /* fault says why */
    LEADS_TO_FILE,      /* a regular file, or one that is not there yet */
    LEADS_TO_OPEN,      /* what this process has open already, as /dev/stdout: written to, never opened anew */
    LEADS_TO_UNREPLACED /* a device, a named pipe, what another process has open: opened and written to */
} DestinationKind;

typedef struct Destination {
    const char *given; /* as people gave it */
    DestinationKind kind;
    const char *path; /* that of the thing itself: its last name is no link */
    int descriptor;   /* of LEADS_TO_OPEN */
    int fault;        /* of LEADS_NOWHERE: an errno */
    bool exists;
    struct stat state;  /* where it exists */
    struct stat folder; /* the folder of LEADS_TO_FILE; without a number where there is none */
} Destination;

/* "-" is standard output. A link is followed to its end, also to one that is not there yet. */
Destination destination_of(Arena *arena, const char *path);
/* Standard output (1), standard error (2), or standard input (0) as a file that may be written over. */
Destination destination_open(int descriptor, const char *given);
/* Writing to one of the two writes to the other, or over it. Terminals and their like are never in each other's
 * way. */
bool destinations_meet(const Destination *one, const Destination *other);

#endif
