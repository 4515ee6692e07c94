import { type ReactNode, useEffect, useRef } from 'react';

/** A dialog over the page: escape closes it, the focus stays inside and returns. */
export function Dialog({
  title,
  close,
  children,
}: {
  readonly title: string;
  readonly close: () => void;
  readonly children: ReactNode;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const element = dialog.current;
    if (element && !element.open) element.showModal();
    return () => element?.close();
  }, []);
  return (
    <dialog ref={dialog} aria-labelledby="dialog-title" onClose={close}>
      <h2 id="dialog-title">{title}</h2>
      {children}
      <button type="button" className="plain-end" onClick={close}>
        Close
      </button>
    </dialog>
  );
}
