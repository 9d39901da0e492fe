import type { ReactNode } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';

/** A sheet over the window: keeps the focus inside, closes with Escape, gives the focus back. */
export function Sheet({
  title,
  onClose,
  width = 'narrow',
  children,
}: {
  readonly title: string;
  readonly onClose: () => void;
  readonly width?: 'narrow' | 'wide' | 'broad';
  readonly children: ReactNode;
}) {
  return (
    <ModalOverlay className="veil" isOpen isDismissable onOpenChange={(isOpen) => (isOpen ? undefined : onClose())}>
      <Modal className={`sheet ${width}`}>
        <Dialog className="sheet-body">
          <Heading slot="title" level={2} className="sheet-title">
            {title}
          </Heading>
          {children}
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
