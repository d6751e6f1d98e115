import type { DispatchValues } from '../care-profile/profile'

/**
 * How a box has to be packed for the coldest and warmest air on its way, night and depot included. Trade defaults,
 * edited with the care profile: plain inside the species' range, a heat pack below it, still colder only insulated
 * with a pack on a next-day journey that is collected, a phase-change pack above it, and a hold outside of that.
 */
export type TemperatureGate = DispatchValues['gate']['value']

export type AirRange = { lowC: number; highC: number }

export const PACKING_WAYS = ['plain', 'heat-pack', 'insulated', 'cool-pack', 'hold'] as const
export type PackingWay = (typeof PACKING_WAYS)[number]

/** `reason`: what about the air asks for it, in words. */
export type Packing = { way: PackingWay; reason: string }

/** `isCollected`: the buyer takes the box at the depot, so that it stands in no van and on no doorstep. */
export type Handing = { isNextDay: boolean; isCollected: boolean }

/** A heat pack overheats a box in air warmer than this (trade default). */
export const HEAT_PACK_MAX_AIR_C = 12

export function packingFor(gate: TemperatureGate, air: AirRange, handing: Handing): Packing {
  const { lowC, highC } = air
  if (highC > gate.coolPackMaxC)
    return { way: 'hold', reason: `up to ${sayC(highC)}, more than ${sayC(gate.coolPackMaxC)}` }
  if (lowC < gate.insulatedMinC)
    return { way: 'hold', reason: `down to ${sayC(lowC)}, less than ${sayC(gate.insulatedMinC)}` }
  const isCold = lowC < gate.plainMinC
  const isHot = highC > gate.plainMaxC
  if (isCold && highC > HEAT_PACK_MAX_AIR_C)
    return {
      way: 'hold',
      reason: `down to ${sayC(lowC)}, too cold without a heat pack, and up to ${sayC(highC)}, too warm with one`,
    }
  if (lowC < gate.heatPackMinC) return insulated(gate, lowC, handing)
  if (isCold) return { way: 'heat-pack', reason: `down to ${sayC(lowC)}` }
  if (isHot) return { way: 'cool-pack', reason: `up to ${sayC(highC)}` }
  return { way: 'plain', reason: `${sayC(lowC)} to ${sayC(highC)}` }
}

function insulated(gate: TemperatureGate, lowC: number, { isNextDay, isCollected }: Handing): Packing {
  const cold = `down to ${sayC(lowC)}`
  if (isNextDay && isCollected) return { way: 'insulated', reason: cold }
  const missing = [isNextDay ? '' : 'arrives the next day', isCollected ? '' : 'is collected at the depot']
  const needs = missing.filter(Boolean).join(' and ')
  return { way: 'hold', reason: `${cold}: below ${sayC(gate.heatPackMinC)} only if it ${needs}` }
}

/** The way that suits every animal in one box. A heat pack and a cool pack do not go together. */
export function commonPacking(packings: readonly Packing[]): Packing {
  const has = (way: PackingWay) => packings.find((packing) => packing.way === way)
  const warm = has('insulated') ?? has('heat-pack')
  const cool = has('cool-pack')
  if (warm && cool) return { way: 'hold', reason: `${warm.reason} for some and ${cool.reason} for others` }
  return has('hold') ?? warm ?? cool ?? has('plain') ?? { way: 'plain', reason: '' }
}

const WORDS: Record<PackingWay, string> = {
  plain: 'packed as usual',
  'heat-pack': 'with a heat pack that touches no cup, and air holes',
  insulated: 'insulated, with a heat pack that touches no cup, and air holes',
  'cool-pack': 'with a phase-change cool pack that touches no cup',
  hold: 'held back',
}

export function sayPacking({ way }: Packing): string {
  return WORDS[way]
}

/** "−3 °C", "12.5 °C". */
export function sayC(celsius: number): string {
  return `${String(Math.round(celsius * 10) / 10).replace('-', '−')} °C`
}
