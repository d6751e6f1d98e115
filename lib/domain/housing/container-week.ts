import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import type { ContainerChange } from './move-up'

/** A kind of container as it stands on the shelf: below zero where more are in use than were counted. */
export type ShelvedKind = { id: string; free: number; ordered: readonly { on: PlainDate; count: number }[] }

/** Single containers wanted for siblings that are parted, by a day. */
export type PartingNeed = { on: PlainDate; toKindId: string; animals: number }

/** One kind in one week. `free` is what is left at its end if nothing more is bought; below zero they are missing. */
export type ContainerWeek = {
  week: PlainDate
  growing: number
  parting: number
  freed: number
  ordered: number
  free: number
}

export type ContainerOutlook = { kindId: string; weeks: ContainerWeek[] }

export type ShoppingLine = { kindId: string; count: number; by: PlainDate }

export type ContainerQuestion = {
  kinds: readonly ShelvedKind[]
  changes: readonly ContainerChange[]
  parting: readonly PartingNeed[]
  from: PlainDate
  weeks: number
}

/** Needed, freed and ordered by kind and week. O(kinds × weeks + changes). */
export function containerOutlook(question: ContainerQuestion): ContainerOutlook[] {
  const { kinds, changes, parting, from, weeks } = question
  const weekOf = (on: PlainDate) => Math.max(0, Math.floor(daysBetween(from, on) / 7))
  return kinds.map((kind) => {
    const list = Array.from({ length: weeks }, (_, week) => ({
      week: addDays(from, 7 * week),
      growing: 0,
      parting: 0,
      freed: 0,
      ordered: 0,
      free: 0,
    }))
    const add = (on: PlainDate, part: 'growing' | 'parting' | 'freed' | 'ordered', count: number) => {
      const week = list[weekOf(on)]
      if (week) week[part] += count
    }
    for (const { on, toKindId, fromKindId, animals } of changes) {
      if (toKindId === kind.id) add(on, 'growing', animals)
      if (fromKindId === kind.id) add(on, 'freed', animals)
    }
    for (const need of parting) if (need.toKindId === kind.id) add(need.on, 'parting', need.animals)
    for (const order of kind.ordered) add(order.on, 'ordered', order.count)
    let free = kind.free
    for (const week of list) {
      free += week.freed + week.ordered - week.growing - week.parting
      week.free = free
    }
    return { kindId: kind.id, weeks: list }
  })
}

/** What to buy so that no week runs short: the most that is missing, by the first day it is. */
export function shoppingList(question: ContainerQuestion): ShoppingLine[] {
  return containerOutlook(question).flatMap(({ kindId, weeks }) => {
    const least = Math.min(...weeks.map(({ free }) => free))
    const firstShort = weeks.find(({ free }) => free < -1e-9)
    if (!firstShort) return []
    const count = Math.ceil(-least - 1e-9)
    const needs = [
      ...question.changes.filter(({ toKindId }) => toKindId === kindId),
      ...question.parting.filter(({ toKindId }) => toKindId === kindId),
    ].map(({ on }) => on)
    const inWeek = needs.filter((on) => on >= firstShort.week && on < addDays(firstShort.week, 7)).sort()
    return [{ kindId, count, by: inWeek[0] ?? firstShort.week }]
  })
}
