import { parentPort } from 'node:worker_threads';
import { type Job, madeDay, nameOf } from './jobs.ts';
import { type DaySamples, daySamples } from './samples.ts';

/** Takes one job after the other and gives back its samples; a day that fails comes back as such, and the rest goes on. */
parentPort?.on('message', (job: Job) => {
  parentPort?.postMessage(samplesOf(job));
});

function samplesOf(job: Job): DaySamples {
  try {
    return daySamples(nameOf(job), madeDay(job));
  } catch (error) {
    return { day: nameOf(job), seed: job.seed, pulls: [], unread: [], error: String(error) };
  }
}
