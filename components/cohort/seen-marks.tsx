import type { PlainDate } from '@/lib/domain/calendar/date'
import type { CohortCourse } from '@/lib/domain/cohort/course'
import type { DayScale } from '../ui/picture/day-scale'

type Props = {
  course: CohortCourse
  moults: number
  place: { x: DayScale; y: (share: number) => number; today: PlainDate }
}

/** At most so many dots a strip, or they run into a line. */
const MOST_DOTS = 24

/** Dots for those parted, where any were or should have been; for those together an upright bar over the shares that the word may mean. */
export function SeenMarks({ course, moults, place }: Props) {
  const { x, y } = place
  const seen = course.days.filter((day) => day.seen !== null)
  const every = Math.ceil(seen.length / MOST_DOTS)
  const dots = seen.filter((_, index) => (seen.length - 1 - index) % every === 0)
  const words = course.words.filter(({ number }) => number === moults)
  return (
    <>
      {words.map(({ on, low, high, moulted }) => (
        <path
          key={`${on} ${moulted}`}
          d={`M${x(on) - 4} ${y(low)}h8M${x(on)} ${y(low)}V${y(high)}M${x(on) - 4} ${y(high)}h8`}
          strokeWidth="2"
          className="stroke-ink"
        />
      ))}
      {dots
        .filter(
          ({ expected, seen: there }) => (there?.shares[moults] ?? 0) > 0 || (expected[moults] ?? 0) > 0.03,
        )
        .map(({ on, seen: there }) => (
          <circle key={on} cx={x(on)} cy={y(there?.shares[moults] ?? 0)} r="2.75" className="fill-ink" />
        ))}
    </>
  )
}
