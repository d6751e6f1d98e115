import { daysBetween, type PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { MoultOutcome } from '../individual/record'
import { remainingLifeOf } from '../individual/remaining-life'
import {
  type LeaveOfAnimal,
  type LeaveSurroundings,
  type LeavingAnimal,
  leaveOfAnimal,
} from './leave-of-animal'
import type { LeaveAdvice, LeaveToday } from './leave-today'

/** An animal on the counter: what is on record about it besides its growth. */
export type SoldAnimal = LeavingAnimal & {
  speciesId: string
  mated: boolean | null
  moults: readonly { outcome: MoultOutcome; on: PlainDate }[]
}

/** What of the sale itself speaks for or against it. */
export type SaleAround = {
  species: { scientificName: string; slug: string }
  /** labels, as people read them, of siblings in the same basket */
  siblings: readonly string[]
  /** where the shop is and where the buyer is; empty where nobody said */
  country: string
  buyerCountry: string
  /** "for Ada until 3 December", where it is held for somebody who is not this buyer */
  heldFor: string | null
}

/** Below this share of its expected adult life the buyer should know. */
export const SHORT_LIFE_SHARE = 0.3

/** Wild populations of these are protected in parts of the world: a proof of origin is asked for there. */
const PROOF_OF_ORIGIN = new Set(['mantis-religiosa'])

/**
 * May it leave today, and what should the buyer know before they pay? Nothing here refuses: what is handed over all the
 * same is recorded with its reason.
 */
export function checkForSale(
  animal: SoldAnimal,
  known: LeaveSurroundings,
  around: SaleAround,
): LeaveOfAnimal {
  const { leave, outlook } = leaveOfAnimal(animal, known)
  if (leave.blocks.some(({ code }) => code === 'gone')) return { leave, outlook }
  const held: LeaveAdvice[] = around.heldFor
    ? [{ code: 'reserved', message: `It is held ${around.heldFor}.` }]
    : []
  const blocks = [...held, ...leave.blocks]
  const warnings = [...leave.warnings, ...listFacts(animal, known, around)]
  const checked: LeaveToday = { may: blocks.length === 0, blocks, warnings }
  return { leave: checked, outlook }
}

function listFacts(animal: SoldAnimal, known: LeaveSurroundings, around: SaleAround): LeaveAdvice[] {
  const facts = [
    sayShortLife(animal, known),
    animal.mated === true && animal.sex === 'female' ? sayMated() : null,
    sayMoult(animal, known.today),
    saySiblings(around.siblings),
    ...sayPapers(around),
  ]
  return facts.filter((fact) => fact !== null)
}

function sayShortLife(animal: SoldAnimal, known: LeaveSurroundings): LeaveAdvice | null {
  const { profile, today } = known
  const { adultSinceOn } = animal
  if (!profile || adultSinceOn === null || adultSinceOn > today) return null
  const life = remainingLifeOf(animal, { ...known, profile })
  if (!life) return null
  const lived = daysBetween(adultSinceOn, today)
  const left = Math.max(0, daysBetween(today, life.p50))
  if (left >= SHORT_LIFE_SHARE * (lived + left)) return null
  const message = `Adult since ${writeDay(adultSinceOn, today)}; about ${left} days are likely to be left to it, under ${SHORT_LIFE_SHARE * 100} % of an adult life.`
  return { code: 'short-life', message }
}

function sayMated(): LeaveAdvice {
  return { code: 'mated', message: 'She has mated: she will lay egg cases, which may hatch.' }
}

function sayMoult({ moults }: SoldAnimal, today: PlainDate): LeaveAdvice | null {
  const hurt = moults.findLast(({ outcome, on }) => outcome !== 'good' && on <= today)
  if (!hurt) return null
  const day = writeDay(hurt.on, today)
  return hurt.outcome === 'lost_limb'
    ? { code: 'lost-limb', message: `It lost a limb in the moult of ${day}. Show it to the buyer.` }
    : { code: 'bad-moult', message: `Its moult of ${day} went badly. Show it to the buyer.` }
}

function saySiblings(siblings: readonly string[]): LeaveAdvice | null {
  if (siblings.length === 0) return null
  const named = siblings.slice(0, 3).join(', ')
  const others = siblings.length > 3 ? ` and ${siblings.length - 3} more` : ''
  const message = `In the same basket as its sibling ${named}${others}: no pair to breed from.`
  return { code: 'sibling-in-basket', message }
}

function sayPapers({ species, country, buyerCountry }: SaleAround): LeaveAdvice[] {
  const { scientificName, slug } = species
  const proof: LeaveAdvice[] = PROOF_OF_ORIGIN.has(slug)
    ? [
        {
          code: 'papers',
          message: `${scientificName} is protected in some countries: hand over and keep a proof of origin. Ask your authority what holds${country ? ` in ${country}` : ''}.`,
        },
      ]
    : []
  const abroad: LeaveAdvice[] =
    buyerCountry !== '' && country !== '' && buyerCountry !== country
      ? [
          {
            code: 'papers-abroad',
            message: `The buyer is in ${buyerCountry}: bringing it there may need a permit or papers. Ask the authority there before it travels.`,
          },
        ]
      : []
  return [...proof, ...abroad]
}
