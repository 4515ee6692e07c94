import { config } from 'zod';

// The content policy forbids building code at run time. Schemas try it when they are made, so this must be imported before any of them.
config({ jitless: true });
