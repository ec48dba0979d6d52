import type { Notice } from '../api/open-build.js';
import { FaultList } from './faces.js';

interface NoticeBarProps {
  readonly notice: Notice | null;
  readonly onDismiss: () => void;
}

/** What happened, said once at the foot of the window. The place is always there, so that it is read aloud when it fills. */
export function NoticeBar({ notice, onDismiss }: NoticeBarProps) {
  return (
    <div class="notices" role="status">
      {notice && (
        <div class={notice.faults ? 'notice bad' : 'notice'}>
          <div>
            <b>{notice.title}</b>
            {notice.faults && <FaultList faults={notice.faults} />}
          </div>
          <div class="btns">
            {notice.action && (
              <button type="button" class="btn" onClick={notice.action.run}>
                {notice.action.verb}
              </button>
            )}
            <button type="button" class="quiet" onClick={onDismiss}>
              Close
            </button>
          </div>
        </div>
      )}
    </div>
  );
}
