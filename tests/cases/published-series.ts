/** Published figures the clock and the profiles have to agree with, with their sources. */

/** Rate relative to 26 °C with a base of 12 °C, by arithmetic. */
export const RELATIVE_RATES = [
  { temperatureC: 20, rate: 0.57 },
  { temperatureC: 22, rate: 0.71 },
  { temperatureC: 24, rate: 0.86 },
  { temperatureC: 26, rate: 1 },
  { temperatureC: 28, rate: 1.14 },
  { temperatureC: 30, rate: 1.29 },
]

/** Days per instar, by species and temperature. */
export const INSTAR_DAYS = [
  {
    what: 'middle instars of Sphodromantis viridis at 25 °C',
    source: 'Abasa & Mathenge, E. Afr. Agric. For. J. 37:177',
    slug: 'sphodromantis-spp',
    temperatureC: 25,
    moults: 3,
    shortestDays: 16,
    longestDays: 19,
  },
  {
    what: 'the first instar of Tenodera (T. attenuata)',
    source: 'Ursani et al. 2017, J. Entomol. Zool. Stud. 5(6):2620',
    slug: 'tenodera-sinensis',
    temperatureC: 25,
    moults: 0,
    shortestDays: 12.6 - 1.14,
    longestDays: 12.6 + 1.14,
  },
]

/** Share of nymphal instar numbers in S. limbata (Maxwell 2014, J. Orthoptera Res. 23:104). */
export const STAGMOMANTIS_MOULTS = {
  female: [
    { totalMoults: 6, share: 0.64 },
    { totalMoults: 7, share: 0.36 },
  ],
  male: [
    { totalMoults: 5, share: 0.09 },
    { totalMoults: 6, share: 0.91 },
  ],
}

/**
 * Mean length of all nymphal instars, days (Abasa & Mathenge, E. Afr. Agric. For. J. 37:177): 16–19 each at
 * 25 °C, 208–247 degree-days above 12 °C.
 */
export const VIRIDIS_INSTARS = {
  slug: 'sphodromantis-spp',
  temperatureC: 25,
  shortestDays: 16,
  longestDays: 19,
  fewestDegreeDays: 208,
  mostDegreeDays: 247,
}

/** All five instars of Harpagomantis tricolor together (Greyvenstein et al. 2020b, J. Orthoptera Res. 52816). */
export const TRICOLOR_TOTAL = { instars: 5, meanDays: 140.2, sdDays: 31 }

/** First instar of T. attenuata (Ursani et al. 2017): mean and standard deviation between siblings. */
export const ATTENUATA_FIRST = { meanDays: 12.6, sdDays: 1.14 }

/** Egg to adult of Drosophila melanogaster, days: median of 41 published fits (Buckley et al. 2017), by arithmetic. */
export const MELANOGASTER = {
  lowerC: 9.8,
  degreeDays: 144,
  days: [
    { temperatureC: 18, days: 17.6 },
    { temperatureC: 20, days: 14.2 },
    { temperatureC: 22, days: 11.8 },
    { temperatureC: 25, days: 9.5 },
    { temperatureC: 28, days: 7.9 },
  ],
}

/** Pupa to house fly, days (Buckley et al. 2017), by arithmetic. */
export const HOUSE_FLY_PUPA = {
  lowerC: 12,
  degreeDays: 77,
  days: [
    { temperatureC: 18, days: 12.8 },
    { temperatureC: 20, days: 9.6 },
    { temperatureC: 22, days: 7.7 },
    { temperatureC: 24, days: 6.4 },
    { temperatureC: 28, days: 4.8 },
  ],
}
