#include "bench/bench.h"

const ActionNeeds action_needs[ACTION_KIND_COUNT] = {
#define X(name, hands, handles, handled) [ACTION_##name] = {hands, handles, handled},
    ACTION_TABLE(X)
#undef X
};
