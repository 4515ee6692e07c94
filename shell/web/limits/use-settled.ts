import { useEffect, useState } from 'react';

/** The value once it has stayed the same for `wait` [ms]: what is slow to draw does not follow every turn. */
export function useSettled<Value>(value: Value, wait: number): Value {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), wait);
    return () => clearTimeout(timer);
  }, [value, wait]);
  return settled;
}
