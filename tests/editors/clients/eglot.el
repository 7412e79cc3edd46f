;;; eglot.el --- A session with eglot -*- lexical-binding: t -*-

(load (expand-file-name "author" (file-name-directory load-file-name)) nil t)
(setq eglot-sync-connect author-patience ; a file that was opened is one that the server knows
      eglot-connect-timeout author-patience
      eglot-confirm-server-initiated-edits nil)

(defun session-open (name)
  "Open the file NAME; eglot starts once the command that opened it is over, and a batch has no commands."
  (author-open name)
  (run-hooks 'post-command-hook)
  (author-wait "server" (lambda () (and (eglot-current-server) eglot--managed-mode))))

(defun session-tell ()
  "Tell the server what has changed; eglot does so when Emacs is idle, which a batch never is."
  (eglot--signal-textDocument/didChange))

(defun session-errors ()
  "The errors that flymake shows."
  (cl-remove-if-not (lambda (one) (memq (flymake-diagnostic-type one) '(eglot-error :error)))
                    (flymake-diagnostics)))

(author-works
 ;; a finding shows
 (session-open "recipes/cup.recipe")
 (author-note 'filetype (symbol-name major-mode))
 (author-note 'syntax (progn (font-lock-ensure) (format "%s" (get-text-property 1 'face))))
 (author-wait "shows" #'session-errors)
 (author-note 'findings (vconcat (mapcar #'flymake-diagnostic-text (flymake-diagnostics))))
 ;; it is fixed
 (goto-char (flymake-diagnostic-beg (car (session-errors))))
 (cl-letf (((symbol-function 'completing-read)
            (lambda (_prompt titles &rest _)
              (let ((titles (mapcar (lambda (one) (if (consp one) (car one) one)) titles)))
                (author-note 'titles (vconcat titles))
                (cl-find-if (lambda (title) (string-match-p (getenv "FOOD") title)) titles)))))
   (let ((last-nonmenu-event t)) ; chosen by the keyboard: there is no mouse to open a menu
     (eglot-code-actions (point) (point) "quickfix" t)))
 (author-wait "fixed" (lambda () (not (author-holds (getenv "SLIP")))))
 (session-tell)
 (author-wait "clears" (lambda () (null (session-errors))))
 (author-note 'left (vconcat (mapcar #'flymake-diagnostic-text (flymake-diagnostics))))
 ;; a food is completed
 (author-completions)
 (session-tell)
 ;; what is under the cursor is explained
 (author-go (getenv "FOOD"))
 (let ((hover (jsonrpc-request (eglot--current-server-or-lose) :textDocument/hover (eglot--TextDocumentPositionParams))))
   (author-note 'hover (format "%S" (plist-get hover :contents))))
 (author-note 'definition
              (let ((found (xref-backend-definitions 'eglot (xref-backend-identifier-at-point 'eglot))))
                (and found (file-name-nondirectory (xref-location-group (xref-item-location (car found)))))))
 ;; it is renamed, in this file and in those that are not open
 (author-go (getenv "FOOD"))
 (cl-letf (((symbol-function 'y-or-n-p) (lambda (&rest _) t))) ; files that are not open are asked for
   (eglot-rename (getenv "NEW_NAME")))
 (author-wait "renamed" (lambda () (author-holds (getenv "NEW_NAME"))))
 (save-some-buffers t)
 (author-note 'cup (author-text))
 ;; a file is laid out
 (session-open "recipes/loose.recipe")
 (eglot-format)
 (author-note 'formatted (author-text))
 (save-some-buffers t)
 (eglot-shutdown (eglot-current-server)))
;;; eglot.el ends here
