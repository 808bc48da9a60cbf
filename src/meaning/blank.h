/* The bare blank: diameters between its stations. */
#ifndef TURNLAY_MEANING_BLANK_H
#define TURNLAY_MEANING_BLANK_H

#include "meaning/job.h"

/* Diameter at x mm from the butt; beyond the stations that of the nearest one. At a step, where two stations lie
 * at one place, that toward the tip. */
double blank_diameter(const Blank *blank, double x);
/* The same on the side of x where `inside` lies: between the two there is no other station. */
double blank_diameter_beside(const Blank *blank, double x, double inside);
/* Number of the first station beyond x; as many as there are stations where none is. */
uint32_t blank_station_after(const Blank *blank, double x);
/* Axial positions of the blank's ends. */
double blank_butt(const Blank *blank);
double blank_tip(const Blank *blank);
/* Integral of the diameter over the axis, mm2. */
double blank_integral(const Blank *blank, double low, double high);

/* Where a guide's foot lies: mm from the butt. */
typedef struct FootLies {
    int direction;   /* in which it is worked, toward the ring: +1 toward the tip, -1 toward the butt */
    double tip, end; /* its outer end, and the one at the ring */
} FootLies;
/* Of the guide with its ring at the mark; the foot toward the butt is number 0. */
FootLies foot_lies(const Guide *guide, double mark, int foot);

#endif
