/** Said at the gate before a pull, on the page and in every report. @source common practice; a regulator’s safeguards for dynamometers: anchors, guards, tyres, chocks */
export const CAUTIONS: readonly string[] = [
  'Advice, not protection: the operator’s judgement, the site’s rules, local codes and licensed practice prevail over everything shown here.',
  'Nobody stands in line with wheels, straps or couplings, in front of or behind the car, while the rolls turn.',
  'Straps are re-tensioned after the first pull and after each refit; anchors and hooks are seen, not assumed.',
  'Tyres are inspected for damage, age, stones and balance weights before each block of pulls.',
  'Exhaust extraction and a carbon monoxide alarm are on; an extinguisher is at hand; the exit is clear; ears are protected.',
  'Caps and plugs are opened only when cold; the rolls are stopped by the roll brake, and nobody steps on them.',
  'Two people at least; no pull is made alone or to beat the clock.',
  'A loosening strap does not show in the data in time.',
];
