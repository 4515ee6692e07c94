import { parentPort } from 'node:worker_threads';
import { type Job, nameOf } from './jobs.ts';
import { readDayOf } from './read-days.ts';
import { type DaySamples, daySamples } from './samples.ts';

/** Takes one job after the other and gives back its samples; a day that fails comes back as such, and the rest goes on. */
parentPort?.on('message', (job: Job) => {
  parentPort?.postMessage(samplesOf(job));
});

function samplesOf(job: Job): DaySamples {
  try {
    return daySamples(nameOf(job), readDayOf(job));
  } catch (error) {
    return { day: nameOf(job), seed: job.seed, pulls: [], unread: [], error: String(error) };
  }
}
