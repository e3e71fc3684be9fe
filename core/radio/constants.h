/* Constants of nature. Source: SI brochure, 9th edition, 2019 (c exact); CODATA 2018 (electric constant, impedance of
 * free space). */
#ifndef LINTEL_RADIO_CONSTANTS_H
#define LINTEL_RADIO_CONSTANTS_H

#define RADIO_PI 3.14159265358979323846
#define RADIO_LIGHT_M_S 299792458.0
#define RADIO_EPSILON0_F_M 8.8541878128e-12
#define RADIO_FREE_SPACE_OHM 376.730313668
#define RADIO_DB_PER_NEPER 8.685889638065037 /* 20 / ln 10 */

#endif
