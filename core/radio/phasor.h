/* Complex numbers, as far as layered walls need them: values, no library (the C library's own multiply calls into the
 * compiler's support code, which the core does without). Internal to core/radio. */
#ifndef LINTEL_RADIO_PHASOR_H
#define LINTEL_RADIO_PHASOR_H

#include <math.h>

struct phasor {
    double re;
    double im;
};

static inline struct phasor phasor_of(double re, double im) {
    return (struct phasor){re, im};
}

static inline struct phasor phasor_add(struct phasor a, struct phasor b) {
    return phasor_of(a.re + b.re, a.im + b.im);
}

static inline struct phasor phasor_subtract(struct phasor a, struct phasor b) {
    return phasor_of(a.re - b.re, a.im - b.im);
}

static inline struct phasor phasor_scale(struct phasor a, double by) {
    return phasor_of(a.re * by, a.im * by);
}

static inline struct phasor phasor_multiply(struct phasor a, struct phasor b) {
    return phasor_of(a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re);
}

static inline double phasor_size(struct phasor a) {
    return hypot(a.re, a.im);
}

/** Scaled by the larger part of b first, so that no square overflows (Smith 1962). b: not 0. */
static inline struct phasor phasor_divide(struct phasor a, struct phasor b) {
    if (fabs(b.re) >= fabs(b.im)) {
        const double ratio = b.im / b.re;
        const double under = b.re + b.im * ratio;
        return phasor_of((a.re + a.im * ratio) / under, (a.im - a.re * ratio) / under);
    }
    const double ratio = b.re / b.im;
    const double under = b.re * ratio + b.im;
    return phasor_of((a.re * ratio + a.im) / under, (a.im * ratio - a.re) / under);
}

/** The root with a real part of 0 or more: of a number below the real axis it lies below it too. */
static inline struct phasor phasor_root(struct phasor a) {
    const double size = phasor_size(a);
    const double re = sqrt((size + fabs(a.re)) / 2);
    if (re <= 0) {
        return phasor_of(0, 0);
    }
    const double im = a.im / (2 * re);
    return a.re >= 0 ? phasor_of(re, im) : phasor_of(fabs(im), a.im < 0 ? -re : re);
}

#endif
