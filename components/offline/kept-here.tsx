'use client'

import type { ReactNode } from 'react'
import { PlainFrame } from '../shell/plain-frame'
import { Button } from '../ui/button'
import { buttonStyle } from '../ui/button-style'
import { Notice } from '../ui/notice'
import type { PageCopy } from './use-page-copy'

type Props = {
  title: string
  /** "Counting as Ada."; empty where nobody is signed in. */
  asWhom: string
  copy: PageCopy
  /** What plain http takes away, and what it leaves. */
  overPlainHttp: string
  isSignedOut: boolean
  whatStays: string
  onSignIn: () => void
  children: ReactNode
}

/** A page that lists what a device has kept. */
export function KeptHere(props: Props) {
  return (
    <PlainFrame
      aside={
        <a href="/" className="target inline-flex items-center text-small underline">
          To the workspaces
        </a>
      }
    >
      <h1>{props.title}</h1>
      <p className="mt-1 mb-6 text-small text-soft">
        {props.asWhom} {sayCopy(props.copy, props.overPlainHttp)}
      </p>
      <div className="space-y-4">
        {props.isSignedOut ? (
          <Notice
            state="due"
            what="Nobody is signed in on this device."
            why={props.whatStays}
            next={<Button onClick={props.onSignIn}>Sign in</Button>}
          />
        ) : null}
        {props.children}
      </div>
    </PlainFrame>
  )
}

function sayCopy(copy: PageCopy, overPlainHttp: string): string {
  if (copy === 'kept') return 'This page opens without a connection.'
  if (copy === 'plain-http') return overPlainHttp
  return copy === 'making' ? 'Getting ready to work without a connection …' : ''
}

type NothingProps = {
  title: string
  children: ReactNode
  places: readonly { id: string; slug: string; name: string }[]
  /** Behind the address of a workspace. */
  path: string
  /** The words of the way there, with a name where there are several. */
  sayPlace: (name: string | null) => string
}

/** Nothing kept yet, and where it begins. */
export function NothingKept({ title, children, places, path, sayPlace }: NothingProps) {
  return (
    <div className="max-w-xl">
      <h2>{title}</h2>
      <p className="mt-2 text-soft">{children}</p>
      <div className="mt-4 flex flex-wrap gap-3">
        {places.map(({ id, slug, name }, index) => (
          <a
            key={id}
            href={`/w/${slug}/${path}`}
            className={buttonStyle({ kind: index === 0 ? 'filled' : 'plain' })}
          >
            {sayPlace(places.length === 1 ? null : name)}
          </a>
        ))}
      </div>
    </div>
  )
}
