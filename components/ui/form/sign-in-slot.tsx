'use client'

import { type ComponentType, createContext, type ReactNode, useContext } from 'react'

export type SignInProps = { isOpen: boolean; onSignedIn: () => void; onGiveUp: () => void }

const SignInSlot = createContext<ComponentType<SignInProps> | null>(null)

/** The form does not know how people sign in; whoever knows puts the dialog here. */
export function SignInSlotProvider({
  dialog,
  children,
}: {
  dialog: ComponentType<SignInProps>
  children: ReactNode
}) {
  return <SignInSlot value={dialog}>{children}</SignInSlot>
}

export function useSignInDialog(): ComponentType<SignInProps> | null {
  return useContext(SignInSlot)
}
