/** A screen that fails says so, instead of leaving an empty page. */
import { Component } from 'preact';
import { t } from '../words.js';
import { Problem } from './states.jsx';

export class Guard extends Component {
  componentDidCatch(problem) {
    console.error(problem);
    this.setState({ problem });
  }

  render({ children }, { problem }) {
    if (!problem) return children;
    return (
      <Problem problem={problem}>
        <button type="button" class="button first" onClick={() => this.setState({ problem: null })}>{t('again')}</button>
        <a class="button" href="/">{t('departures.back')}</a>
      </Problem>
    );
  }
}
