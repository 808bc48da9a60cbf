/* Inside the meaning room: what threads are called on pages. On the bench two threads of one name are two spools.
 */
#ifndef TURNLAY_MEANING_THREAD_NAMES_H
#define TURNLAY_MEANING_THREAD_NAMES_H

#include "meaning/evaluate.h"

/* Those of used files are called by their file's name too, where another has the name. */
void tell_names_apart(Evaluator *evaluator, Texts *texts, const Modules *modules, uint32_t threads);
/* When all rods are made: threads that are others in some rod than they are declared are spools of their own,
 * behind the declared one in Job.threads. */
void add_changed_threads(Evaluator *evaluator, Texts *texts, const Modules *modules, Job *job);

#endif
