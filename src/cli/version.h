/* Which turnlay this is. */
#ifndef TURNLAY_CLI_VERSION_H
#define TURNLAY_CLI_VERSION_H

/* Name and version, with the commit if it was built in a checkout: "turnlay 0.1.0 (54907e4)". */
extern const char version_text[];

#endif
