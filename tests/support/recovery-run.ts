import type { PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { learnDevelopment, withLearnedThreshold } from '@/lib/domain/development/learning'
import type { LearningSettings } from '@/lib/domain/development/learning-settings'
import type { DevelopmentParameters } from '@/lib/domain/development/parameters'
import { possibleStarts, startsWithin } from '@/lib/domain/development/possible-start'
import { type LearnedDevelopment, parametersOf } from '@/lib/domain/development/posterior'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { temperatureSpreadC } from '@/lib/domain/development/temperature-spread'
import { seededStream } from '@/lib/domain/random/seeded'
import { type Answer, type Judged, judge, type Question, questionOf } from './recovery-judge'
import { dayOfMoult, historiesOn, type PlayedAnimal, type PlayedRoom, recordOn } from './simulated-room'

/** Who answers: what is learned from the records, full knowledge of the parameters, the profile alone, or a part of the model. */
export type Variant = {
  name: string
  changes?: (room: PlayedRoom) => Partial<LearningSettings>
  knowsThreshold?: boolean
  isProfileOnly?: boolean
  changesParameters?: (parameters: DevelopmentParameters) => DevelopmentParameters
  changesRecord?: (record: DevelopmentRecord, animal: PlayedAnimal) => DevelopmentRecord
  temperatureSdC?: number
}

const KNOWN_SD = 1e-4

export const LEARNED: Variant = { name: 'learned' }
export const PROFILE_ONLY: Variant = { name: 'profile alone', isProfileOnly: true }
export const FULL_KNOWLEDGE: Variant = {
  name: 'full knowledge',
  knowsThreshold: true,
  changes: ({ truth }) => ({
    species: { mean: truth.speciesLog, sd: KNOWN_SD },
    byInstar: truth.byInstar.map((mean) => ({ mean, sd: KNOWN_SD })),
    clutch: (id) => ({ mean: truth.clutchLog[id] ?? 0, sd: KNOWN_SD }),
    noiseRecords: Number.POSITIVE_INFINITY,
  }),
}

/** With the room it was asked in: its shift in per cent and the days over which its clutches hatch. */
export type Scored = Judged & { ownMoults: number; shift: number; room: string; seasonDays: number }

/** All answers to the same questions at the moment when `count` moults are on record. */
export function answersAt(
  room: PlayedRoom,
  asked: { count: number; questions: number; seed: string },
  variants: readonly Variant[],
): Map<string, Scored[]> | null {
  const today = dayOfMoult(room, asked.count)
  if (today === null) return null
  const histories = historiesOn(room, today)
  const records = new Map<string, DevelopmentRecord>()
  for (const animal of room.animals) {
    const record = recordOn(animal, { today, histories })
    if (record) records.set(animal.id, record)
  }
  const questions = listQuestions(room, { today, records, ...asked })
  const ownMoults = ownMoultsByClutch(records)
  const answers = new Map<string, Scored[]>()
  for (const variant of variants) {
    const known = learnVariant(room, [...records.values()], variant)
    answers.set(
      variant.name,
      questions.map((question) => ({
        ...judge(question, answerOf(question, { room, variant, known, today })),
        ownMoults: ownMoults.get(question.animal.clutchId) ?? 0,
        shift: Math.round(Math.expm1(room.plan.speciesLog) * 100),
        room: asked.seed,
        seasonDays: room.plan.seasonDays ?? 0,
      })),
    )
  }
  return answers
}

function listQuestions(
  room: PlayedRoom,
  now: {
    today: PlainDate
    records: Map<string, DevelopmentRecord>
    questions: number
    seed: string
    count: number
  },
): Question[] {
  const stream = seededStream(`${now.seed}/questions/${now.count}`)
  return stream
    .shuffle(room.animals)
    .flatMap((animal) => {
      const record = now.records.get(animal.id)
      const question = record && questionOf(animal, record, { today: now.today, chance: stream.uniform() })
      return question ? [question] : []
    })
    .slice(0, now.questions)
}

function ownMoultsByClutch(records: Map<string, DevelopmentRecord>): Map<string, number> {
  const counts = new Map<string, number>()
  for (const { clutchId, starts } of records.values())
    if (clutchId) counts.set(clutchId, (counts.get(clutchId) ?? 0) + starts.length - 1)
  return counts
}

type Known = { learned: LearnedDevelopment | null; profile: CareProfile }

function learnVariant(room: PlayedRoom, records: DevelopmentRecord[], variant: Variant): Known {
  const { profile } = room.plan
  if (variant.isProfileOnly) return { learned: null, profile }
  const start = variant.knowsThreshold ? withThreshold(profile, room.truth.lowerC) : profile
  const given = recordsFor(room, records, variant)
  const changes = { ...variant.changes?.(room) }
  const learned = learnDevelopment(start, given, changes)
  if (variant.knowsThreshold) learned.threshold = { ...learned.threshold, isLearned: false }
  return { learned, profile: withLearnedThreshold(start, learned) }
}

function recordsFor(room: PlayedRoom, records: DevelopmentRecord[], variant: Variant): DevelopmentRecord[] {
  const { changesRecord } = variant
  if (!changesRecord) return records
  const animals = new Map(room.animals.map((animal) => [animal.id, animal]))
  return records.map((record) => changesRecord(record, animals.get(record.animalId)!))
}

function withThreshold(profile: CareProfile, lowerC: number): CareProfile {
  const lowerThresholdC = { ...profile.growth.lowerThresholdC, value: lowerC }
  return { ...profile, growth: { ...profile.growth, lowerThresholdC } }
}

function answerOf(
  question: Question,
  { room, variant, known, today }: { room: PlayedRoom; variant: Variant; known: Known; today: PlainDate },
): Answer {
  const { changesRecord } = variant
  const record = changesRecord ? changesRecord(question.record, question.animal) : question.record
  const temperatureSdC = variant.temperatureSdC ?? temperatureSpreadC(record.history, today)
  const last = record.starts.at(-1)!
  if (!known.learned)
    return {
      profile: room.plan.profile,
      starts: startsWithin(last.earliestOn, last.latestOn),
      temperatureSdC,
    }
  const { animalId, clutchId } = record
  const parameters = parametersOf(known.learned, { animalId, clutchId })
  return {
    profile: known.profile,
    parameters: variant.changesParameters ? variant.changesParameters(parameters) : parameters,
    starts: possibleStarts(record, { profile: known.profile, learned: known.learned }),
    temperatureSdC,
  }
}
