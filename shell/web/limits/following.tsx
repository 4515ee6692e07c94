import { type ReactNode, type RefObject, useEffect, useRef, useState } from 'react';

/** What comes into sight soon is drawn before it is there [px]. @source our default: a third of a laptop's screen */
const NEAR = 250;

interface FollowingProps<Value> {
  readonly value: Value;
  /** Whether the hand rests: then everything is brought up to date. */
  readonly rests: boolean;
  readonly children: (value: Value) => ReactNode;
}

/** A part that follows the hand while it is in sight; out of sight it waits until the hand rests, so that what is looked at comes sooner. */
export function Following<Value>({ value, rests, children }: FollowingProps<Value>) {
  const place = useRef<HTMLDivElement>(null);
  const inSight = useInSight(place);
  const shown = useRef(value);
  if (inSight || rests) shown.current = value;
  return <div ref={place}>{children(shown.current)}</div>;
}

/** Whether an element is on the screen or near it. */
function useInSight(element: RefObject<Element | null>): boolean {
  const [inSight, setInSight] = useState(true);
  useEffect(() => {
    if (!element.current) return;
    const observer = new IntersectionObserver((entries) => setInSight(entries.at(-1)?.isIntersecting ?? true), {
      rootMargin: `${NEAR}px 0px`,
    });
    observer.observe(element.current);
    return () => observer.disconnect();
  }, [element]);
  return inSight;
}
