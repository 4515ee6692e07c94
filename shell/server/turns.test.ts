import { expect, test } from 'vitest';
import { Turns } from './turns.ts';

test('changes of one name run one after the other, of two names side by side, and a failed one holds nobody up', async () => {
  const turns = new Turns();
  const order: string[] = [];
  const gate = Promise.withResolvers<void>();
  const first = turns.take('a', async () => {
    await gate.promise;
    order.push('first');
    throw new Error('failed');
  });
  const second = turns.take('a', async () => order.push('second'));
  await turns.take('b', async () => order.push('other'));
  gate.resolve();
  await expect(first).rejects.toThrow('failed');
  await second;
  expect(order).toEqual(['other', 'first', 'second']);
});
