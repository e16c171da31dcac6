import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { watchRequests } from '../platform/requests.ts';
import '../ui/tokens.css';
import '../ui/base.css';
import '../ui/controls.css';
import '../ui/sheet.css';
import '../ui/forced-colors.css';
import { App } from './app.tsx';
import { Fallible } from './fallible.tsx';

watchRequests();
createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <Fallible onAgain={() => location.reload()}>
      <App />
    </Fallible>
  </StrictMode>,
);
