/* Inside the meaning room: whether used files are the versions that are asked for. */
#ifndef TURNLAY_MEANING_USED_VERSION_H
#define TURNLAY_MEANING_USED_VERSION_H

#include "meaning/evaluate.h"

/* A warning for each that is not. */
void compare_versions(Evaluator *evaluator, const Modules *modules);

#endif
