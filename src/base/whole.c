#include "base/whole.h"

#include <math.h>

double whole_below(double number) { return floor(number + WHOLE_HAIR); }

double whole_above(double number) { return ceil(number - WHOLE_HAIR); }

bool is_whole(double number) { return !(fabs(number - round(number)) > WHOLE_HAIR); }
