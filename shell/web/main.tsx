import './client/no-eval.ts';
import 'uplot/dist/uPlot.min.css';
import './look/theme.css';
import './look/base.css';
import './look/parts.css';
import './look/verdicts.css';
import './look/heat-strips.css';
import './look/margins.css';
import './look/print.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';

const place = document.getElementById('page');
if (!place) throw new Error('missing element: page');
createRoot(place).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
