/**
 * The two tables of the trade as a keeper would write them down, typed in apart from the profiles: each
 * default profile has to print back to its line.
 */
export const GROWTH_LINES: readonly string[] = [
  'Tenodera sinensis | 6/7 | 95/110 | 10/18 | 7–21 | 2–4 (21) | 40/150/300 | 28–45 @ 24–28 | optional',
  'Mantis religiosa | 6/6–7 | 75/90 | 10/14 | 7–14 | 2–4 (14) | 20/80/200 | 30–45 @ 25 | cold strains',
  'Stagmomantis spp. | 6/7 | 80/95 | 8/14 | 5–14 | 3–6 (14) | 15/40/90 | 28–50 @ 26 | optional',
  'Sphodromantis spp. | 7/8 | 110/130 | 12/18 | 7–21 | 4–7 (18) | 40/120/250 | 28–42 @ 27 | none',
  'Hierodula spp. | 7/8 | 110/130 | 12/20 | 7–21 | 4–6 (18) | 30/100/250 | 35–49 @ 26 | none',
  'Hymenopus coronatus | 5/7 | 90/165 | 10/21 | 7–21 | 4–8 (14) | 20/60/120 | 35–45 @ 28 | none',
  'Creobroter spp. | 6/7 | 80/95 | 7/12 | 5–12 | 5–9 (10) | 10/30/60 | 28–40 @ 27 | none',
  'Pseudocreobotra spp. | 6/7 | 75/90 | 7/13 | 5–14 | 4–7 (12) | 15/40/70 | 30–42 @ 28 | none',
  'Parasphendale spp. | 6/8 | 85/120 | 8/16 | 5–14 | 5–8 (12) | 30/80/200 | 30–45 @ 26 | none',
  'Phyllocrania paradoxa | 6/7 | 120/140 | 12/18 | 7–18 | 6–10 (12) | 10/30/50 | 35–50 @ 26 | none',
  'Deroplatys lobata | 6/7–8 | 110/150 | 14/28 | 10–28 | 3–6 (21) | 15/40/90 | 38–55 @ 26 | none',
  'Deroplatys desiccata | 6/7–8 | 115/160 | 14/28 | 10–28 | 3–6 (21) | 15/50/100 | 38–55 @ 26 | none',
  'Idolomantis diabolica | 7/8 | 150/180 | 14/28 | 10–30 | 2–5 (25) | 15/35/60 | 40–55 @ 31 | none',
  'Gongylus gongylodes | 7/8 | 120/150 | 12/24 | 7–21 | 4–7 (15) | 15/35/60 | 35–50 @ 31 | none',
  'Blepharopsis mendica | 7/8 | 130/160 | 10/20 | 3–10 | 3–6 (14) | 15/35/60 | 28–45 @ 29 | none',
  'Popa spurca | 6/7–8 | 110/130 | 12/20 | 7–21 | 3–6 (18) | 20/60/110 | 32–45 @ 26 | none',
  'Miomantis spp. | 6/7 | 70/85 | 7/12 | 5–12 | 5–10 (8) | 15/40/100 | 25–45 @ 26 | none',
  'Iris oratoria | 6/7 | 80/95 | 8/14 | 5–14 | 4–8 (12) | 10/25/50 | 25–50 @ 28 | optional',
  'Rhombodera spp. | 7/8 | 130/160 | 14/25 | 10–28 | 3–5 (21) | 30/80/150 | 40–60 @ 26 | none',
]

/** Species, apart at, hatchling/male/female mm, day °C, lowest night °C, humidity %, adult life in weeks. */
export const KEEPING_LINES: readonly string[] = [
  'Tenodera sinensis | 2 | 10/85/105 | 23–28 | 16 | 50–60 | 6–12/12–22',
  'Mantis religiosa | 1 | 6/60/75 | 24–30 | 15 | 40–60 | 5–10/10–20',
  'Stagmomantis spp. | 2 | 7/54/55 | 24–30 | 15 | 40–60 | 5–10/12–22',
  'Sphodromantis spp. | 1 | 5/65/75 | 24–30 | 18 | 50–60 | 10–18/18–35',
  'Hierodula spp. | 1 | 6.5/70/85 | 24–30 | 18 | 55–70 | 8–16/16–32',
  'Hymenopus coronatus | 2 | 5.5/28/60 | 25–30 | 20 | 60–80 | 4–10/16–34',
  'Creobroter spp. | 2 | 4/30/38 | 24–29 | 19 | 60–70 | 4–9/10–20',
  'Pseudocreobotra spp. | 2 | 4.5/28/38 | 25–30 | 20 | 50–60 | 5–10/12–22',
  'Parasphendale spp. | 1 | 5/40/70 | 24–30 | 18 | 40–60 | 6–12/16–30',
  'Phyllocrania paradoxa | colony | 7/45/50 | 22–28 | 18 | 50–70 | 6–12/18–30',
  'Deroplatys lobata | 3 | 14/45/68 | 24–28 | 18 | 60–80 | 8–16/18–36',
  'Deroplatys desiccata | 3 | 15/68/82 | 24–28 | 18 | 60–80 | 8–16/18–36',
  'Idolomantis diabolica | colony | 14/100/130 | 29–35 | 18 | 45–65 | 6–12/10–20',
  'Gongylus gongylodes | colony | 13/75/85 | 30–36 | 22 | 40–55 | 8–14/14–26',
  'Blepharopsis mendica | 4 | 9/50/58 | 28–36 | 18 | 30–50 | 8–14/14–26',
  'Popa spurca | 3 | 8/60/75 | 24–30 | 18 | 40–60 | 10–16/18–32',
  'Miomantis spp. | 1 | 5/35/45 | 22–28 | 16 | 50–60 | 5–9/12–22',
  'Iris oratoria | 1 | 5/40/45 | 25–32 | 16 | 40–50 | 6–10/12–20',
  'Rhombodera spp. | 1 | 7/75/90 | 24–29 | 20 | 60–75 | 10–18/20–36',
]
