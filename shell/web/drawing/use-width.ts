import { type RefObject, useEffect, useState } from 'react';

/** Width of an element [px], followed as it changes. 800 before it is known. */
export function useWidth(holder: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(800);
  useEffect(() => {
    const element = holder.current;
    if (!element) return;
    const observer = new ResizeObserver(() => setWidth(element.clientWidth));
    observer.observe(element);
    setWidth(element.clientWidth);
    return () => observer.disconnect();
  }, [holder]);
  return width;
}
