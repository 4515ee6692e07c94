import { useEffect, useState } from 'react';
import { flushSync } from 'react-dom';

/** True while the page is being printed: drawings are then made again in the colours of paper. */
export function usePrinting(): boolean {
  const [printing, setPrinting] = useState(false);
  useEffect(() => {
    const media = matchMedia('print');
    // Printing does not wait for a later turn: the drawing must be there when the event handler returns.
    const change = () => flushSync(() => setPrinting(media.matches));
    media.addEventListener('change', change);
    return () => media.removeEventListener('change', change);
  }, []);
  return printing;
}
