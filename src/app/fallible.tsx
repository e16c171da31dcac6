import { Component, type ReactNode } from 'react';

/** Keeps a fault in one sheet from taking the page with it. */
export class Fallible extends Component<{ children: ReactNode; onAgain: () => void }, { error: Error | null }> {
  override state: { error: Error | null } = { error: null };

  static getDerivedStateFromError(error: Error) {
    return { error };
  }

  override render() {
    const { error } = this.state;
    if (!error) return this.props.children;
    const notLoaded = /dynamically imported|module script|preload/i.test(error.message);
    return (
      <div className="plates">
        <div className="plate bad" role="alert">
          <h1>{notLoaded ? 'This sheet could not be loaded' : 'This sheet broke'}</h1>
          <p>
            {notLoaded
              ? 'A part of the page was not loaded before the network went. Your file and your decisions are still here.'
              : 'That is our fault, not your file’s. Your file and your decisions are still here, and the other sheets work.'}
          </p>
          <p className="dim mono">{error.message}</p>
          <div className="row">
            <button type="button" className="btn next" onClick={this.props.onAgain}>
              Try it again
            </button>
          </div>
        </div>
      </div>
    );
  }
}
