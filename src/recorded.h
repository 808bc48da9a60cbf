/* Inside libturnlay's entries: what records say, beside what is given. */
#ifndef TURNLAY_RECORDED_H
#define TURNLAY_RECORDED_H

#include "compilation.h"

/* Of what was given; a finding for each that is none. They become sources behind all others. */
void read_records(Compilation *compilation);
/* Into the job, before it is planned. */
void take_records(Compilation *compilation);
/* It cannot have been in its step: T704 where it stands in the record, else what turnlay_finish answers. */
void tell_not_happened(Compilation *compilation, const Happening *happening);
/* Where the builder stands and wrote something, if the record counts that on the sheet that so many things make,
 * of which these are the steps; and then on the sheet that all makes. T704 where a sheet has no such step. */
void place_recorded_steps(Compilation *compilation, const BenchPlan *bench, uint32_t count);
void settle_recorded_steps(Compilation *compilation);
/* As a record tells it. */
RecordedEvent event_of_mishap(const TurnlayMishap *mishap);
RecordedEvent event_of_width(Compilation *compilation, const TurnlayMeasured *measured,
                             const MeasuredWidth *width);

#endif
