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
