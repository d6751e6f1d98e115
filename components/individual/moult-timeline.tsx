import type { MoultTimeline as Timeline, TimelineStep } from '@/lib/domain/development/timeline'
import { shortDay, shortRange } from '../ui/picture/day-scale'
import { Hatching } from '../ui/picture/hatching'
import { Picture, type Rendition } from '../ui/picture/picture'
import { measureText } from '../ui/picture/text-width'
import { layOutTimeline, SIZE_PX, type StepBox, type TimelineLayout } from './moult-timeline-layout'

type Props = { timeline: Timeline }

/** Each instar a step as wide as it lasted and as high as the animal is long; the next one as a band. */
export function MoultTimeline({ timeline }: Props) {
  if (timeline.steps.length === 0) return null
  return (
    <Picture
      title="Moult timeline"
      description={describe(timeline)}
      heightOf={(widthPx) => layOutTimeline(timeline, widthPx).height}
      draw={(rendition) => (
        <Steps layout={layOutTimeline(timeline, rendition.widthPx)} rendition={rendition} />
      )}
      table={{
        head: ['Instar', 'From', 'Until', 'Days', 'Length'],
        rows: timeline.steps.map((step) => listCells(step, timeline)),
      }}
    />
  )
}

function describe({ steps, window, leaveAlone }: Timeline): string {
  const running = steps.find((step) => step.state === 'running')
  const next = steps.find((step) => step.state === 'expected')
  return [
    running ? `Now ${running.label}, for ${running.days ?? 0} days.` : '',
    window && next
      ? `${next.label} expected ${shortRange(window.p10, window.p90)}, most likely ${shortDay(window.p50)}.`
      : '',
    leaveAlone ? `Leave alone ${shortRange(leaveAlone.from, leaveAlone.until)}.` : '',
  ]
    .filter(Boolean)
    .join(' ')
}

function listCells(step: TimelineStep, { window }: Timeline): string[] {
  if (step.state === 'expected') {
    const expected = window ? `${shortRange(window.p10, window.p90)} expected` : 'expected'
    return [step.label, expected, '', '', `${step.lengthMm.toFixed(0)} mm`]
  }
  return [
    step.label,
    shortDay(step.from),
    step.to ? shortDay(step.to) : 'running',
    step.days === null ? '' : String(step.days),
    `${step.lengthMm.toFixed(0)} mm`,
  ]
}

function Steps({ layout, rendition }: { layout: TimelineLayout; rendition: Rendition }) {
  const { boxes, base } = layout
  return (
    <>
      <defs>
        <Hatching id={`${rendition.id}-hatching`} />
      </defs>
      <Months layout={layout} />
      <Expected layout={layout} />
      {boxes.map((box) => (
        <Step key={box.step.from} box={box} base={base} hatching={`url(#${rendition.id}-hatching)`} />
      ))}
      <path d={`M0 ${base}H${rendition.widthPx}`} strokeWidth="1.5" className="stroke-ink" />
      {layout.words.map((word) => (
        <g key={word.key} fontSize={SIZE_PX}>
          <text x={word.left} y={base + 26} className="fill-ink">
            {word.first}
          </text>
          <text x={word.left} y={base + 43} className="fill-soft">
            {word.second}
          </text>
        </g>
      ))}
      <Today layout={layout} />
    </>
  )
}

function Step({ box, base, hatching }: { box: StepBox; base: number; hatching: string }) {
  const { step, left, width, height } = box
  const length = `${step.lengthMm.toFixed(0)} mm`
  const lengthWidth = measureText(length, { sizePx: SIZE_PX })
  return (
    <g>
      {step.state === 'running' ? (
        <rect
          x={left + 0.75}
          y={base - height}
          width={Math.max(1, width - 1.5)}
          height={height}
          fill={hatching}
          strokeWidth="1.5"
          className="stroke-ink"
        />
      ) : (
        <rect x={left} y={base - height} width={width} height={height} className="fill-ink" />
      )}
      {lengthWidth + 4 <= width ? (
        <text x={left + 2} y={base - height - 5} fontSize={SIZE_PX} className="fill-soft">
          {length}
        </text>
      ) : null}
    </g>
  )
}

/** The band as high as the animal will be, its most likely day, and the days on which it is left alone. */
function Expected({ layout }: { layout: TimelineLayout }) {
  const { band, hush, head, base } = layout
  return (
    <>
      {head.map((line, row) => (
        <text
          key={line.text}
          x={line.left}
          y={13 + row * 17}
          fontSize={SIZE_PX}
          fontWeight="600"
          className="fill-ink"
        >
          {line.text}
        </text>
      ))}
      {band ? (
        <>
          <rect
            x={band.left}
            y={base - band.height}
            width={band.width}
            height={band.height}
            className="fill-band"
          />
          <path
            d={`M${band.likely} ${base - band.height - 6}V${base}`}
            strokeWidth="2.5"
            className="stroke-likely"
          />
        </>
      ) : null}
      {hush ? (
        <>
          <rect x={hush.left} y={base + 5} width={hush.width} height={7} className="fill-hush" />
          <text
            x={hush.label}
            y={base + 26 + hush.row * 17}
            fontSize={SIZE_PX}
            fontWeight="600"
            className="fill-hush"
          >
            leave alone
          </text>
        </>
      ) : null}
    </>
  )
}

function Today({ layout }: { layout: TimelineLayout }) {
  const { today, top, base } = layout
  return (
    <g>
      <path d={`M${today.x} ${top - 22}V${base + 4}`} strokeWidth="2" className="stroke-ink" />
      <text x={today.label} y={top - 12} fontSize={SIZE_PX} fontWeight="600" className="fill-ink">
        today
      </text>
    </g>
  )
}

function Months({ layout }: { layout: TimelineLayout }) {
  const { months, height } = layout
  return months.map((month) => (
    <g key={month.label}>
      <path d={`M${month.x} ${height - 17}V${height - 3}`} className="stroke-line" />
      <text x={month.left} y={height - 6} fontSize={SIZE_PX} className="fill-soft">
        {month.label}
      </text>
    </g>
  ))
}
