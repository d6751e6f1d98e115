'use client'

import { clsx } from 'clsx'
import type { ReactNode } from 'react'
import {
  Dialog as AriaDialog,
  Button,
  DialogTrigger,
  Heading,
  Modal,
  ModalOverlay,
} from 'react-aria-components'
import { type ButtonStyle, buttonStyle } from './button-style'

type BoxProps = {
  title: ReactNode
  /** `sheet` comes from the lower edge on a phone. */
  place?: 'middle' | 'sheet'
  children: ReactNode | ((dialog: { close: () => void }) => ReactNode)
}

type DialogProps = BoxProps & { isOpen: boolean; onOpenChange: (isOpen: boolean) => void; isFirm?: boolean }

const OVERLAY = 'fixed inset-0 z-40 flex bg-ground/70 backdrop-blur-[2px] no-print'

/** Focus goes in, stays in, and comes back. `isFirm`: a touch beside it does not close it. */
export function Dialog({ isOpen, onOpenChange, isFirm = false, place = 'middle', ...box }: DialogProps) {
  return (
    <ModalOverlay
      isOpen={isOpen}
      onOpenChange={onOpenChange}
      isDismissable={!isFirm}
      className={clsx(
        OVERLAY,
        place === 'sheet' ? 'items-end desk:items-center' : 'items-center',
        'justify-center',
      )}
    >
      <Box place={place} {...box} />
    </ModalOverlay>
  )
}

type DialogButtonProps = BoxProps & { label: ReactNode; kind?: ButtonStyle['kind']; className?: string }

/** A button and the dialog it opens. */
export function DialogButton({ label, kind, className, place = 'middle', ...box }: DialogButtonProps) {
  return (
    <DialogTrigger>
      <Button className={clsx(buttonStyle({ kind }), className)}>{label}</Button>
      <ModalOverlay
        isDismissable
        className={clsx(
          OVERLAY,
          place === 'sheet' ? 'items-end desk:items-center' : 'items-center',
          'justify-center',
        )}
      >
        <Box place={place} {...box} />
      </ModalOverlay>
    </DialogTrigger>
  )
}

function Box({ title, place, children }: BoxProps) {
  return (
    <Modal
      className={clsx(
        'max-h-[90dvh] w-full overflow-y-auto rounded-edge border border-ink bg-sheet desk:w-[34rem]',
        place === 'sheet' ? 'm-0 pb-[env(safe-area-inset-bottom)] desk:m-6' : 'm-4',
      )}
    >
      <AriaDialog className="p-5 outline-none">
        {(dialog) => (
          <>
            <div className="mb-3 flex items-start justify-between gap-4">
              <Heading slot="title" level={2}>
                {title}
              </Heading>
              <Button
                slot="close"
                aria-label="Close"
                className="target -me-2 -mt-2 flex items-center justify-center rounded-edge hover:bg-wash"
              >
                <svg viewBox="0 0 20 20" className="size-5" aria-hidden="true">
                  <path d="M4 4l12 12M16 4 4 16" stroke="currentColor" strokeWidth="2" />
                </svg>
              </Button>
            </div>
            {typeof children === 'function' ? children(dialog) : children}
          </>
        )}
      </AriaDialog>
    </Modal>
  )
}
