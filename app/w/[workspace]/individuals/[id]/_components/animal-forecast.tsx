import { type Fact, FactList } from '@/components/ui/fact-list'
import { writeDay } from '@/lib/domain/calendar/wording'
import { chanceWithin, type MoultForecast } from '@/lib/domain/development/forecast'
import type { IndividualPage } from '@/lib/features/individual/loaders'

/** When it will moult next and when it will be adult, with the reason under it. */
export function AnimalForecast({ page }: { page: IndividualPage }) {
  const { outlook, today } = page
  if (!outlook)
    return (
      <section>
        <h2>What comes</h2>
        <p className="mt-2 text-soft">
          Nobody has defined the instars of this species yet, so nothing is forecast.
        </p>
      </section>
    )
  const { nextMoult } = outlook
  const facts = [...moultFacts(nextMoult, today), ...adultFacts(page)]
  return (
    <section>
      <h2>What comes</h2>
      {facts.length > 0 ? (
        <div className="mt-2">
          <FactList facts={facts} />
        </div>
      ) : null}
      <p className="mt-2 text-small text-soft">
        {nextMoult?.reason ?? 'No temperature is known where it stands, so nothing is forecast.'}
      </p>
    </section>
  )
}

function moultFacts(forecast: MoultForecast | null, today: string): Fact[] {
  if (forecast?.status !== 'forecast') return []
  const { p10, p50, p90, leaveAlone } = forecast
  const inAWeek = Math.round(chanceWithin(forecast, 7) * 100)
  return [
    {
      term: 'Next moult',
      value: `${writeDay(p10, today)} to ${writeDay(p90, today)}`,
      note: `Most likely about ${writeDay(p50, today)}; ${inAWeek} % within a week. Windows are made so that eight of ten hold.`,
    },
    {
      term: 'Leave alone',
      value: `${writeDay(leaveAlone.from, today)} to ${writeDay(leaveAlone.until, today)}`,
      note: 'The signs rule, the dates only warn: mist lightly, offer one small prey, take it out if it is ignored for a day.',
    },
  ]
}

function adultFacts({ animal, adult, life, today }: IndividualPage): Fact[] {
  if (animal.adultSinceOn)
    return [{ term: 'Adult since', value: writeDay(animal.adultSinceOn, today) }, ...lifeFacts(life, today)]
  if (adult?.status !== 'forecast') return []
  const { p10, p50, p90 } = adult
  const inAMonth = Math.round(chanceWithin(adult, 30) * 100)
  return [
    {
      term: 'Adult',
      value: `${writeDay(p10, today)} to ${writeDay(p90, today)}`,
      note: `Its final moult most likely about ${writeDay(p50, today)}; ${inAMonth} % within 30 days.`,
    },
  ]
}

function lifeFacts(life: IndividualPage['life'], today: string): Fact[] {
  if (!life) return []
  const inAMonth = Math.round((life.chanceWithin.find(({ days }) => days === 30)?.probability ?? 0) * 100)
  return [
    {
      term: 'Probably lives until',
      value: `${writeDay(life.p10, today)} to ${writeDay(life.p90, today)}`,
      note: `Half of its like are gone by ${writeDay(life.p50, today)}; ${inAMonth} % within 30 days. ${life.reason}`,
    },
  ]
}
