'use client'

import type { DeviceState } from '@/components/bench/queue/bench-device'
import { isUnsent, type KeptRun } from '@/components/bench/queue/entry'
import type { PageCopy } from '@/components/offline/use-page-copy'
import { PlainFrame } from '@/components/shell/plain-frame'
import { Button } from '@/components/ui/button'
import { buttonStyle } from '@/components/ui/button-style'
import { LatinName } from '@/components/ui/latin-name'
import { Notice } from '@/components/ui/notice'
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
      <PlainFrame
        aside={
          <a href="/" className="target inline-flex items-center text-small underline">
            To the workspaces
          </a>
        }
      >
        <h1>Bench</h1>
        <p className="mt-1 mb-6 text-small text-soft">
          {who && !isSignedOut ? `Counting as ${who.person.name}. ` : ''}
          {sayCopy(copy)}
        </p>
        <div className="space-y-4">
          {isSignedOut ? (
            <Notice
              state="due"
              what="Nobody is signed in on this device."
              why="What is kept here stays, and is sent after signing in."
              next={<Button onClick={onSignIn}>Sign in</Button>}
            />
          ) : null}
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
        </div>
      </PlainFrame>
    </>
  )
}

function sayCopy(copy: PageCopy): string {
  if (copy === 'kept') return 'This page opens without a connection.'
  if (copy === 'plain-http')
    return 'Over plain http this page cannot open without a connection. Taps are kept all the same; https does both.'
  return copy === 'making' ? 'Getting ready to work without a connection …' : ''
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
  const places = (who?.workspaces ?? []).filter(({ mayCount }) => mayCount)
  return (
    <div className="max-w-xl">
      <h2>No run on this device</h2>
      <p className="mt-2 text-soft">
        A run begins at its clutch, with a connection: labels are set aside for it. From then on it works here
        without one.
      </p>
      <div className="mt-4 flex flex-wrap gap-3">
        {places.map(({ id, slug, name }, index) => (
          <a
            key={id}
            href={`/w/${slug}/clutches`}
            className={buttonStyle({ kind: index === 0 ? 'filled' : 'plain' })}
          >
            {places.length === 1 ? 'Choose a clutch' : `Clutches of ${name}`}
          </a>
        ))}
      </div>
    </div>
  )
}
