'use client'

import type { DeviceState } from '@/components/bench/queue/bench-device'
import { isUnsent, type KeptRun } from '@/components/bench/queue/entry'
import { KeptHere, NothingKept } from '@/components/offline/kept-here'
import type { PageCopy } from '@/components/offline/use-page-copy'
import { LatinName } from '@/components/ui/latin-name'
import { benchStanding } from '@/lib/domain/separation/bench-run'
import { BenchAlarms } from './bench-alarms'
import { KeptForOthers } from './kept-for-others'

type Props = { state: DeviceState; copy: PageCopy; onSignIn: () => void }

/** What this device has: the runs to go on with, and what waits for somebody else. */
export function KeptRuns({ state, copy, onSignIn }: Props) {
  const { runs, who, isSignedOut } = state
  const own = runs.filter(({ person }) => who === null || person.id === who.person.id)
  return (
    <>
      <BenchAlarms state={state} />
      <KeptHere
        title="Bench"
        asWhom={who && !isSignedOut ? `Counting as ${who.person.name}.` : ''}
        overPlainHttp="Over plain http this page cannot open without a connection. Taps are kept all the same; https does both."
        whatStays="What is kept here stays, and is sent after signing in."
        {...{ copy, isSignedOut, onSignIn }}
      >
        <KeptForOthers state={state} />
        {own.length === 0 ? (
          <Nothing state={state} />
        ) : (
          <ul aria-label="Runs on this device" className="divide-y divide-line border-line border-y">
            {own.map((kept) => (
              <RunLine key={`${kept.run.id} ${kept.person.id}`} kept={kept} state={state} />
            ))}
          </ul>
        )}
      </KeptHere>
    </>
  )
}

function RunLine({ kept, state }: { kept: KeptRun; state: DeviceState }) {
  const { run, clutch, workspace, standing } = kept
  const entries = (state.entries ?? []).filter((entry) => entry.run === run.id)
  const { housed } = benchStanding(
    standing,
    entries.map(({ tap }) => tap),
  )
  const waiting = entries.filter(isUnsent).length
  return (
    <li>
      <a
        href={`#${workspace.id}/${run.id}`}
        className="target flex flex-wrap items-baseline justify-between gap-x-4 py-3 no-underline hover:bg-wash"
      >
        <span className="font-semibold text-lead underline underline-offset-4">
          {clutch.label} <LatinName name={clutch.scientificName} />
        </span>
        <span className="text-small text-soft">
          {housed} of {run.planned} in cups{waiting > 0 ? `, ${waiting} waiting to send` : ''},{' '}
          {workspace.name}
        </span>
      </a>
    </li>
  )
}

function Nothing({ state: { who } }: { state: DeviceState }) {
  return (
    <NothingKept
      title="No run on this device"
      places={(who?.workspaces ?? []).filter(({ mayCount }) => mayCount)}
      path="clutches"
      sayPlace={(name) => (name ? `Clutches of ${name}` : 'Choose a clutch')}
    >
      A run begins at its clutch, with a connection: labels are set aside for it. From then on it works here
      without one.
    </NothingKept>
  )
}
