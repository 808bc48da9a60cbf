#include "cli/version.h"

#include "commit.h"
#include "turnlay.h"

#ifdef TURNLAY_COMMIT
const char version_text[] = "turnlay " TURNLAY_VERSION " (" TURNLAY_COMMIT ")";
#else
const char version_text[] = "turnlay " TURNLAY_VERSION;
#endif
