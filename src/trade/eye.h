/* What the eye makes of fine stripes: how far light runs together at a distance, and from which contrast on
 * stripes are seen. Pure functions. */
#ifndef TURNLAY_TRADE_EYE_H
#define TURNLAY_TRADE_EYE_H

/* mm on the rod by which a point of light is spread, one standard deviation of a normal distribution: minutes of
 * arc seen from so many mm. Of a narrow pupil (3 mm) the sharp part of the eye's spread is 0.43 minutes (W. S.
 * Geisler and K. D. Davila, "Ideal discriminators in spatial vision: two-point stimuli", Journal of the Optical
 * Society of America A 2, 1483-1497 (1985), fitted to F. W. Campbell and R. W. Gubisch, "Optical quality of the
 * human eye", Journal of Physiology 186, 558-578 (1966): secondary, read in a page that cites them; their titles
 * and pages are from memory). */
double eye_blur(double minutes, double distance);
/* How much of the light seen at x comes from a stripe between two places, 0 to 1: the normal distribution over it.
 * A blur of 0 is sharp: all of it within, half of it on an edge. */
double eye_share(double blur, double x, double from, double to);

/* From this share of their mean light on, up and down, stripes of so many a degree, 0 or more, are seen: the
 * reciprocal of the contrast sensitivity of A. B. Watson and A. J. Ahumada, "A standard model for foveal detection
 * of spatial contrast", Journal of Vision 5(9), 717-740 (2005), fitted as a difference of hyperbolic secants
 * (secondary: parameters from a published program that cites the paper). Always above 0: 1/56 of the widest
 * stripes, least (1/217) at 3.4 a degree, 1 at 47 and rising without end behind that, at last to infinity. */
double contrast_threshold(double cycles_a_degree);
/* Stripes of one light, of the share of a period that is given, between those of another, `period` mm from one to
 * the next, seen from so many mm: how many times their contrast is what can just be seen; 0 where all is dark. Of
 * their harmonics the first counts (F. W. Campbell and J. G. Robson, "Application of Fourier analysis to the
 * visibility of gratings", Journal of Physiology 197, 551-566 (1968): gratings are seen where it is; from memory).
 * one, other: relative luminance, 0 or more. */
double stripes_visible(double one, double other, double share, double period, double distance);

#endif
